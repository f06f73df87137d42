"""The vortex lattice on the built surfaces: neutral point, trim, drag, bending."""
