"""What is to come: when strokes run out, how sure that is, and the last day on which work is still safe to wait.

Pure: counts, days and plans are arguments.  Nothing here decides that a line is due; that stands in ``upkeep/due``.
"""
