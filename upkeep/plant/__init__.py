"""What stands in a plant: items, places, people, shifts, tasks; and the files a plant writes them in."""
