"""Suspect product: what was made between a good check and a bad one, or while held."""
