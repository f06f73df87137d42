"""What would make it fit: words and page."""
