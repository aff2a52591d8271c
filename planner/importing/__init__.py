"""Runs recorded elsewhere: from a CSV file to runs of the person's own, all of them or none."""
