"""What readings a setting would give, from the runs so far; what they forbid."""
