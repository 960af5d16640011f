"""Frozen views of the whole plant: what the lead has to know first, where everything is."""
