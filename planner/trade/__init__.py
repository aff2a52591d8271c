"""What the trade knows: pure functions with published sources."""
