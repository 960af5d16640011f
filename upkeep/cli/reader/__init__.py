"""Who reads at a terminal, and the pages of help in their language."""
