"""What people read in a terminal: frozen values in, text out; nothing is printed here."""
