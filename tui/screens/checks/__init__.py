"""Checks and inspections: measured values with their gauges."""
