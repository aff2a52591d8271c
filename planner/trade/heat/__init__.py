"""What the trade knows of heat and power: speed, watts, temperatures, dew."""
