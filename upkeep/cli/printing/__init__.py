"""Commands that print: labels, cards, sheets."""
