"""The stations: pages for tablets and cheap PCs at the presses, from one process that holds the book.

``pages`` makes pages out of views, ``server`` holds the book and answers the browsers.
"""
