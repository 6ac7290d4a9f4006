#!/usr/bin/env python3
"""Reads a Maildir with Python's own `email` module and prints, for each mail with a Message-ID, a line of JSON.

read_mail.py FOLDER MESSAGE_ID
"""
import email
import email.policy
import json
import pathlib
import sys

folder, wanted = pathlib.Path(sys.argv[1]), sys.argv[2]
for path in sorted(folder.glob("new/*")) + sorted(folder.glob("cur/*")):
    mail = email.message_from_bytes(path.read_bytes(), policy=email.policy.default)
    if mail["Message-ID"] != wanted:
        continue
    parts = [part for part in mail.walk() if not part.is_multipart()]
    body = {part.get_content_type(): part.get_content() for part in parts}
    print(json.dumps({
        "to": mail["To"],
        "subject": mail["Subject"],
        "auto_submitted": mail["Auto-Submitted"],
        "parts": [part.get_content_type() for part in parts],
        "text": body.get("text/plain"),
        "html": body.get("text/html"),
        "defects": sum(len(part.defects) for part in mail.walk()),
    }))
