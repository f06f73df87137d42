"""Parts on a trailer or in a container: the page."""
