"""How much of what was planned was done on time."""
