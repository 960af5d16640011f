"""What a person works with: the board, the round of a place, the sign-off form, the page of a line, small askers."""
