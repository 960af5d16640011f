"""The first load: the sheets a plant has of its presses, tools, people and work, read as they are, into a book."""
