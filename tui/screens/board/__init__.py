"""The board, the page of a line, questions, and papers read at the screen."""
