"""The weekly due list, as text and as PDF."""
