"""Values of a plant beside its items and tasks: what a task says in other languages, and days without work."""
