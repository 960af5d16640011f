"""The screens of Strokebook in a terminal: the board for the lead, the round for the operator, the sign-off form.

Floors, highest first: ``app``, ``screens``, ``widgets``, ``present``, then ``keys`` and ``messages``.  An import only
points down.  ``present`` turns frozen views of the book into words and knows no terminal; everything below a screen
is told what to show and never asks the book.
"""
