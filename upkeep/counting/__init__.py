"""From counter readings to strokes: totals of a press, what sat where and when, the strokes of each item."""
