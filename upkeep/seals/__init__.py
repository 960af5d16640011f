"""Seals: the number and link of an entry, kept outside the book, and what they say of a book that is shown later."""
