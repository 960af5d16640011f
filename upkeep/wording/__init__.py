"""Meaning into words: sentences in the reader's language, numbers, days and moments as that reader writes them."""
