"""What is under way: jobs, locks, and what one shift hands over to the next."""
