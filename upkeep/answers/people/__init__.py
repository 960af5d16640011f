"""Answers about people: rights, training, how work is signed."""
