"""Frozen views of planned work: a week, its hours, the year."""
