"""Mathematics on plain numbers: censored lives, trends, charts, and how little a few passes prove.

The floor knows no press and no stroke: numbers come in, frozen values go out, and what the numbers mean is for the
floors above.  Lines, charts and Student's t are plain Python; scipy.special loads inside the few functions that ask
it (lives, capability, passes), and scipy.stats nowhere: each takes longer to load than most answers.
"""
