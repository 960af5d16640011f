"""Levelling: which job is done on which shift and by whom, so that nobody has more than a shift holds.

``problem`` says what there is to be placed, ``rules`` what a plan must keep and what it costs, ``greedy`` and ``exact``
each make one; ``levelled`` gives the better of the two and how far it may be from the best there is.
"""
