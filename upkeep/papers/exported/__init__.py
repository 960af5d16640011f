"""Printed lists for other programs: as CSV, as a spreadsheet, as a calendar."""
