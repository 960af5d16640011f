"""What a book answers, by subject."""
