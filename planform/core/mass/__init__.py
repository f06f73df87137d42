"""Sums of masses, loadings as points of mass and moment, loads on supports."""
