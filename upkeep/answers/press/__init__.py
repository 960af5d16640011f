"""What is asked with the tools in hand: what a scanned code stands for."""
