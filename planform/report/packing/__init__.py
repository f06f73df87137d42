"""Several aircraft in one hangar: its page."""
