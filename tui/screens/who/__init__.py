"""Who is here, and the code that proves it."""
