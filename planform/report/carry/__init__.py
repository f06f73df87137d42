"""A part carried out: its page."""
