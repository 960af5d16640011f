"""Figures on paper: what was on time, what a plant is led by, the manager's page."""
