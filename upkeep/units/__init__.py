"""Instants, spans, shift days and recurrence rules: time as a plant means it.  Knows no press and asks no clock."""
