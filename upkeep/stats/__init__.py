"""Mathematics on plain numbers: censored lives, trends, charts, and how little a few passes prove.

The floor knows no press and no stroke: numbers come in, frozen values go out, and what the numbers mean is for the
floors above.  scipy and numpy load inside the functions that ask them.
"""
