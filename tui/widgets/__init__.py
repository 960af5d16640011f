"""Pieces of a screen: they draw what they are given and say what was pressed; none of them knows the book."""
