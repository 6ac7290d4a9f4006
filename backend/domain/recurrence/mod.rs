//! Rules that repeat: RFC 5545 rule text and ISO 8601 intervals.
