"""The book's file: schema, append, projections, backup.  SQLite is spoken here and nowhere else.

Entries are the truth; every other table is a projection, written in the same transaction as the entry that moves it,
and can be thrown away and made again.  Moments are stored as UTC text, ``2026-03-02T05:00:00Z``.
"""
