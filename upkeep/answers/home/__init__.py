"""What the lead has to know first: what is held, late, due, asked, and what the days ahead bring."""
