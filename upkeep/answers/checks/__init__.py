"""Checks, and the gauges they were made with."""
