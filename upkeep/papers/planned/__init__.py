"""Planned work as text: a week, its hours, the year."""
