"""Jobs around a book that nobody has to think of: state changes told, Monday's list, nightly proven backups.

Every job looks at what is there and does what is missing, so that running one twice, late or after a long sleep of the
machine does the right thing once.
"""
