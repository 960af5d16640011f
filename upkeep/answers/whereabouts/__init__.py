"""Where things are, and what is written where they are moved."""
