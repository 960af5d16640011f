"""What the book answers of the shelf: stock, what to order, kits, what is out for rework."""
