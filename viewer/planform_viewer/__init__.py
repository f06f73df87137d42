"""Rendered pictures of planform's scenes, through pyvista; planform itself never imports this."""
