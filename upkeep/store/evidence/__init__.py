"""Queries behind an auditor's questions."""
