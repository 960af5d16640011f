"""The screens at the press: the round, the count, something found and its picture."""
