"""Design, stage and stance made solid: parts, outlines, measures."""
