"""The way out of a room: its words, floor marks, helpers' card, pictures and page."""
