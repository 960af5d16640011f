"""Pages about the shelf."""
