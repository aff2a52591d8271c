"""What the trade knows of scores: how totals are made, and when a gain is one."""
