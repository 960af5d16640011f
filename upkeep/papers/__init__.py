"""Frozen views as documents: printed pages, PDF, text.  Meaning comes from the book; only looks are made here."""
