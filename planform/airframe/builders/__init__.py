"""One builder for each kind of part."""
