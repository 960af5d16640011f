"""Faults, their steps and their causes."""
