"""Commands that answer an auditor."""
