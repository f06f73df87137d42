"""What was read, explained by the fewest differences from the drawing."""
