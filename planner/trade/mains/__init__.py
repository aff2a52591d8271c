"""What the trade knows of the wall socket: circuits, loads that last, supplies."""
