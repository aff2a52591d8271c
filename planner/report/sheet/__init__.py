"""The settings sheet: what was set when a score was made, and what the setting to keep rests on."""
