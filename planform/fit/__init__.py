"""Whether it fits: clearances, the way out and its proof, the verdict."""
