"""Sums that figures are made of."""
