"""An evening at one prompt: what a typed line means, and the session that acts on it."""
