"""The search for the best score that can be claimed, over all knobs at once."""
