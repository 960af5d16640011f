"""What the shelf takes and gives, and what is out for rework, before it is written."""
