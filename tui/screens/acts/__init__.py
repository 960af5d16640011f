"""What can be written from a screen beside sign-offs, checks, counts and faults: deeds as data, and one form."""
