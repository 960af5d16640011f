"""From counter readings to strokes: running totals of a press, what sat where and when, and the strokes of each item."""
