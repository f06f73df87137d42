"""Shapes as arrays: panels, sections, meshes, plan outlines, distances between them."""
