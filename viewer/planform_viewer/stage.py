"""A scene as pyvista actors, its light and its camera; shared by stills and the window."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray

from planform.drawing.framing import CREASE, GLASS, HAIR, INK, LIGHT, View
from planform.drawing.scene import Leader, Scene, Solid
from planform.drawing.style import PAPER

if TYPE_CHECKING:
    from pyvista import Actor, Plotter

Array = NDArray[np.float64]

LIGHTS = ((LIGHT, 0.62), (np.array([0.8, 0.15, 0.6]), 0.22), (np.array([0.0, 0.0, 1.0]), 0.22))
"""Key, fill and front light: toward the light as right, up, to the eye; strength."""


def stage(scene: Scene, size: tuple[int, int], *, off_screen: bool) -> Plotter:
    """A plotter that holds the scene; no camera is set yet."""
    import pyvista

    plotter = pyvista.Plotter(off_screen=off_screen, window_size=list(size), lighting="none")
    plotter.set_background(PAPER)  # type: ignore[arg-type]
    plotter.enable_anti_aliasing("msaa", multi_samples=8)
    for toward, strength in LIGHTS:
        plotter.add_light(
            pyvista.Light(position=tuple(toward), light_type="camera light", intensity=strength)
        )
    for solid in scene.solids:
        if len(solid.faces):
            _add_solid(plotter, solid)
    for leader in scene.leaders:
        _add_leader(plotter, leader)
    return plotter


def _add_solid(plotter: Plotter, solid: Solid) -> None:
    import pyvista

    triangles = np.column_stack([np.full(len(solid.faces), 3), solid.faces])
    mesh = pyvista.PolyData(solid.points, triangles.ravel())
    glass = solid.opacity < GLASS
    plotter.add_mesh(
        mesh,
        color=solid.colour,
        opacity=solid.opacity,
        smooth_shading=not glass,
        split_sharp_edges=not glass,
        feature_angle=CREASE,
        ambient=0.44,
        diffuse=0.74,
        specular=0.0,
    )
    edges = mesh.extract_feature_edges(
        feature_angle=CREASE, boundary_edges=True, non_manifold_edges=False, manifold_edges=False
    )
    if edges.n_cells:
        actor = plotter.add_mesh(
            edges, color=HAIR if glass else INK, line_width=1.3, lighting=False
        )
        _forward(actor, 2.0)
    if not glass:
        outline = plotter.add_silhouette(
            mesh, color=INK, line_width=2.0, feature_angle=None, decimate=None
        )
        _forward(outline, 1.0)


def _forward(actor: Actor, units: float) -> None:
    """Move lines and dots toward the eye, by steps of the depth buffer, so that they show."""
    mapper = actor.GetMapper()
    mapper.SetResolveCoincidentTopologyToPolygonOffset()
    mapper.SetRelativeCoincidentTopologyLineOffsetParameters(0.0, -units)
    mapper.SetRelativeCoincidentTopologyPointOffsetParameter(-units)


def _add_leader(plotter: Plotter, leader: Leader) -> None:
    """The line and its end dots, in front of everything."""
    import pyvista

    ends = np.stack([leader.start, leader.end])
    line = pyvista.Line(leader.start, leader.end)
    dots = pyvista.PolyData(ends)
    for colour, wider, step in (("white", 3.0, 0.0), (leader.colour, 0.0, 500.0)):
        _forward(
            plotter.add_mesh(line, color=colour, line_width=4.5 + wider, lighting=False),
            66000.0 + step,
        )
        _forward(
            plotter.add_mesh(
                dots,
                color=colour,
                point_size=13 + wider,
                render_points_as_spheres=True,
                lighting=False,
            ),
            66000.0 + step,
        )


def look(plotter: Plotter, view: View) -> None:
    """Set the plotter's camera to a view."""
    frame, camera = view.frame, plotter.camera
    middle = frame @ view.middle
    camera.focal_point = middle
    camera.up = frame[:, 1]
    camera.parallel_projection = view.distance is None
    if view.distance is None:
        camera.parallel_scale = view.half
        camera.position = middle + 4.0 * view.half * frame[:, 2]
    else:
        camera.view_angle = float(np.degrees(2.0 * np.arctan2(view.half, view.distance)))
        camera.position = middle + view.distance * frame[:, 2]
    plotter.reset_camera_clipping_range()
