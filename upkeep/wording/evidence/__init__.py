"""What evidence says of definitions, in words."""
