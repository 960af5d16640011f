"""What every screen stands on: the desk, the frame of a page, picking, help, the pages that can be read."""
