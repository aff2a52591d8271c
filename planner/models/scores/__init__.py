"""What the runs of a study say of its scores: how they are made, what moves them, what is noise."""
