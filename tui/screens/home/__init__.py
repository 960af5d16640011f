"""What the lead begins with."""
