"""What comes into the book besides a person at the press: files of counts, sheets from the wall, history from before.

Each turns text into entries and hands them to the book; what the book refuses comes back with the line it stood on.
"""
