"""What is asked for papers alone."""
