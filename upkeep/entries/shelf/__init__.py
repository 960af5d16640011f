"""Entries about the shelf, and about what is out for rework."""
