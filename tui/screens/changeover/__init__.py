"""A change of tools at a terminal, one step after another."""
