"""A simulated bench with many knobs, one score and one evening."""
