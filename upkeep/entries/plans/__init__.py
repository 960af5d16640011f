"""Entries about the work of a week: who is absent, what was proposed, changed, agreed and frozen."""
