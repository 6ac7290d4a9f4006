#!/usr/bin/env python3
"""Reads a CSV from standard input with Python's csv module and prints its rows as JSON.

Nothing is told to it about the file but its encoding: RFC 4180 as Python's `excel` dialect reads it, strictly.
"""

import csv
import io
import json
import sys

text = sys.stdin.buffer.read().decode("utf-8-sig")
json.dump(list(csv.reader(io.StringIO(text, newline=""), strict=True)), sys.stdout)
