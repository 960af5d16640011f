"""Where counts come from besides a person at the press: files that others drop."""
