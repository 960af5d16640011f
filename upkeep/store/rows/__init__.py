"""The rows of every table but ``entries``, with names; the tables, the SQL that makes and fills them, and the proof
follow from them.

Moments are UTC text, ``2026-03-02T05:00:00Z``; days are ISO text.  A row compares equal to the plain tuple of its
values.  What a query gives beside whole rows has a named row of its own, without a table.
"""
