"""A book as a file among files: connections to it, who may read it, copies, and the signs that stand beside it."""
