"""Motion in the floor's plane and over uneven ground: the searches and their compiled loops."""
