"""What the book takes, and refuses with which sentence."""
