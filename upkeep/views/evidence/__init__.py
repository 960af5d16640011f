"""Frozen views for whoever asks for evidence."""
