//! Lengths, volumes, times and pressures: as entered and canonical.
