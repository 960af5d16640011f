"""Commands about seals: what a paper says of the book, and what leaves the house with a proof."""
