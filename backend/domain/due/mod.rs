//! Windows and states: when a check opens, is due, and is overdue.
