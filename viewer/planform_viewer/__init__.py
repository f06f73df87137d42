"""Rendered pictures of planform's scenes, through pyvista; planform itself never imports this."""

from planform_viewer.show import show
from planform_viewer.stills import write_stills

__all__ = ["show", "write_stills"]
