"""Planned work, read."""
