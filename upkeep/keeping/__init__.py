"""From entries to tables: entry by entry, all anew, and as they stood at any moment."""
