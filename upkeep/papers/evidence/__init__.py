"""Evidence as text, for pages and papers."""
