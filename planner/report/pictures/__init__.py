"""Pictures of a study: each is a folder of its own and a line in `table`."""
