"""Running the search by itself: the person's own commands, started, watched and ended."""
