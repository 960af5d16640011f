"""Answers to an auditor: a dossier, a trace, what changed, what was late, what was permitted."""
