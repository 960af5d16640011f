"""Wear: what was measured on a part against its strokes, how long it lasts, and how often to look."""
