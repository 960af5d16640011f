"""Where everything in the plant is."""
