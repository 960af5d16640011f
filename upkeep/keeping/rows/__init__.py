"""Rows as the rules know them: what is asked of them, and what those of counts stand for."""
