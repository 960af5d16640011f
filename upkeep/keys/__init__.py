"""What is secret, or only of today: the file of keys beside a book, with hashes of codes and badges, sessions, tries.

It is no part of the book and no evidence: without it the book is whole, and everybody gets a new code.  Only this room
touches the file; the book's door holds it.
"""
