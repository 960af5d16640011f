"""When a task on an item is due, in which state its line is, and the sentence that says why.  Pure: time comes in."""
