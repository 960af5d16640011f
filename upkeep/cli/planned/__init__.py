"""Commands that plan: the week, its hours, absences; the year."""
