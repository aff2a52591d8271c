"""A module's own data sheet in bytes (serial presence detect), DDR4 and DDR5."""
