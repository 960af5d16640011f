"""Every kind of entry, its one-line text and the hash chain.  An entry is a dated, signed fact that never changes."""
