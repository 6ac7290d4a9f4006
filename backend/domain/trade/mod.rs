//! What the trade knows: fixture kinds, parts, checks, limits, severities.
