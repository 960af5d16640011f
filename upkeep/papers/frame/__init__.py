"""What every paper has in common: its head, its pages, the pen it is drawn with, the codes on it."""
