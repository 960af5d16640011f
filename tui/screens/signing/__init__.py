"""Signing a line: at once, or with its values."""
