"""The first day of a book: the sheets of the plant loaded, the first hour, what is new in a release."""
