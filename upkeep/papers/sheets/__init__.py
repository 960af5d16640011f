"""Sheets that are filled in by hand: a set-up, a hold list, the morning after a shutdown, a handover, the wall."""
