"""The page beside the bench: what to run, one tap to answer, how the study stands."""
