"""The engine of Strokebook: from press readings to strokes, due lines, sign-offs and printed weeks.

Data runs one way: entries → counting → due → book → papers, service, cli.  Nothing here knows the screens.
"""
