"""Off-screen stills of a scene."""

from __future__ import annotations

import os
from pathlib import Path
from typing import Any

import numpy as np
from numpy.typing import NDArray

from planform.report.scene import Camera, Leader, Scene

Array = NDArray[np.float64]


def _plotter(scene: Scene, size: tuple[int, int], *, off_screen: bool) -> Any:
    import pyvista

    plotter: Any = pyvista.Plotter(off_screen=off_screen, window_size=list(size))
    plotter.set_background("#e8eeee", top="#fbfaf6")
    plotter.enable_anti_aliasing("msaa", multi_samples=8)
    for solid in scene.solids:
        triangles = np.column_stack([np.full(len(solid.faces), 3), solid.faces])
        mesh = pyvista.PolyData(solid.points, triangles.ravel())
        glassy = solid.opacity < 0.3
        plotter.add_mesh(
            mesh,
            color=solid.colour,
            opacity=solid.opacity,
            smooth_shading=not glassy,
            split_sharp_edges=not glassy,
            feature_angle=25.0,
            ambient=0.28,
            diffuse=0.75,
            specular=0.08,
        )
        edges = mesh.extract_feature_edges(
            feature_angle=25.0, boundary_edges=True, non_manifold_edges=False, manifold_edges=False
        )
        if edges.n_cells:
            plotter.add_mesh(
                edges, color="#7d888b" if glassy else "#2b3a42", line_width=1.2, lighting=False
            )
    for leader in scene.leaders:
        _add_leader(plotter, pyvista, leader, scene.cameras[0])
    return plotter


def _add_leader(plotter: Any, pyvista: Any, leader: Leader, camera: Camera) -> None:
    ends = np.stack([leader.start, leader.end])
    line = plotter.add_mesh(pyvista.Line(*ends), color=leader.colour, line_width=5, lighting=False)
    dots = plotter.add_mesh(
        pyvista.PolyData(ends),
        color=leader.colour,
        point_size=14,
        render_points_as_spheres=True,
        lighting=False,
    )
    for actor in (line, dots):
        mapper = actor.mapper
        mapper.SetResolveCoincidentTopologyToPolygonOffset()
        mapper.SetRelativeCoincidentTopologyLineOffsetParameters(0, -66000)
        mapper.SetRelativeCoincidentTopologyPointOffsetParameter(-66000)
    right = np.cross(camera.up, camera.direction)
    beside = ends.mean(axis=0) + LABEL_ASIDE * right / np.linalg.norm(right)
    plotter.add_point_labels(
        [beside],
        [leader.label],
        font_size=24,
        text_color=leader.colour,
        shape_color="white",
        shape_opacity=0.85,
        show_points=False,
        always_visible=True,
        margin=6,
    )


LABEL_ASIDE = 0.45
"""How far to the right of its leader a label stands [m]."""

MARGIN = 1.1
"""Picture height or width over that of what is shown."""


def _aim(plotter: Any, camera: Camera, scene: Scene) -> None:
    plotter.camera.parallel_projection = camera.parallel
    points = np.concatenate([solid.points for solid in scene.solids])
    low, high = points.min(axis=0), points.max(axis=0)
    middle = 0.5 * (low + high)
    reach = float(np.linalg.norm(high - low))
    direction = camera.direction / np.linalg.norm(camera.direction)
    plotter.camera.position = middle + 2.2 * reach * direction
    plotter.camera.focal_point = middle
    plotter.camera.up = camera.up
    plotter.reset_camera_clipping_range()
    _fill(plotter, points, camera)


def _fill(plotter: Any, points: Array, camera: Camera) -> None:
    """Turn the view and set its angle (or scale) so that the points just fill the picture."""
    width, height = plotter.window_size
    eye, focus = np.array(plotter.camera.position), np.array(plotter.camera.focal_point)
    ahead = (focus - eye) / np.linalg.norm(focus - eye)
    right = np.cross(ahead, camera.up)
    right /= np.linalg.norm(right)
    up = np.cross(right, ahead)
    run = points - eye
    depth = run @ ahead if not camera.parallel else np.full(len(run), np.linalg.norm(focus - eye))
    across, upward = run @ right / depth, run @ up / depth
    x = 0.5 * (across.max() + across.min())
    y = 0.5 * (upward.max() + upward.min())
    half = MARGIN * max(np.ptp(upward), np.ptp(across) * height / width) / 2.0
    distance = float(np.linalg.norm(focus - eye))
    shift = distance * (x * right + y * up)
    plotter.camera.focal_point = focus + shift
    if camera.parallel:
        plotter.camera.position = eye + shift
        plotter.camera.parallel_scale = float(half * distance)
    else:
        plotter.camera.view_angle = float(np.degrees(2.0 * np.arctan(half)))
    plotter.reset_camera_clipping_range()


def write_stills(scene: Scene, folder: Path, size: tuple[int, int]) -> list[Path]:
    """One PNG per camera, named after it; a file appears only when it is whole."""
    plotter = _plotter(scene, size, off_screen=True)
    out = []
    for camera in scene.cameras:
        _aim(plotter, camera, scene)
        target = folder / f"{camera.name}.png"
        half_made = folder / f"{camera.name}.part.png"
        plotter.render()
        plotter.screenshot(str(half_made))
        os.replace(half_made, target)
        out.append(target)
    plotter.close()
    return out


def show(scene: Scene) -> None:
    """Open the scene in a window, to turn it by hand."""
    plotter = _plotter(scene, (1400, 900), off_screen=False)
    _aim(plotter, scene.cameras[0], scene)
    plotter.show()
