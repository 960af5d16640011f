"""Commands about the shelf."""
