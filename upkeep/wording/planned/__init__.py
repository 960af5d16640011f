"""Sentences about planned work."""
