"""Meaning into sentences."""
