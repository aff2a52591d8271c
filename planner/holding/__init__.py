"""Settings that must keep holding: the fastest one, or the one with the least voltage."""
