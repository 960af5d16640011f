"""The shelf: what lies on it, when to order, and the kits for planned work."""
