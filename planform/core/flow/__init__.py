"""Linear lifting-surface theory: strips, the lattice, the wake far behind."""
