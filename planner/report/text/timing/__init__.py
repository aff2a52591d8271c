"""What a set of timings means, in sentences."""
