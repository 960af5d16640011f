"""Frozen views of the book as the words and cells a screen shows.  Knows no terminal and no widgets."""
