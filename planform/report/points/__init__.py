"""Named points: a list, pictures with their numbers, and a table to read into."""
