"""Off-screen stills of a scene."""

from __future__ import annotations

import os
from pathlib import Path
from typing import Any

import numpy as np

from planform.report.scene import Camera, Scene


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
        _add_leader(plotter, pyvista, leader)
    return plotter


def _add_leader(plotter: Any, pyvista: Any, leader: Any) -> None:
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
    plotter.add_point_labels(
        [0.5 * (ends[0] + ends[1])],
        [leader.label],
        font_size=24,
        text_color=leader.colour,
        shape_color="white",
        shape_opacity=0.85,
        show_points=False,
        always_visible=True,
        margin=6,
    )


def _aim(plotter: Any, camera: Camera) -> None:
    plotter.camera.parallel_projection = camera.parallel
    bounds = np.array(plotter.bounds).reshape(3, 2)
    middle = bounds.mean(axis=1)
    reach = float(np.linalg.norm(bounds[:, 1] - bounds[:, 0]))
    direction = camera.direction / np.linalg.norm(camera.direction)
    plotter.camera.position = middle + 2.0 * reach * direction
    plotter.camera.focal_point = middle
    plotter.camera.up = camera.up
    plotter.reset_camera()
    plotter.camera.zoom(1.18 if camera.parallel else 1.3)


def write_stills(scene: Scene, folder: Path, size: tuple[int, int]) -> list[Path]:
    """One PNG per camera, named after it; a file appears only when it is whole."""
    plotter = _plotter(scene, size, off_screen=True)
    out = []
    for camera in scene.cameras:
        _aim(plotter, camera)
        target = folder / f"{camera.name}.png"
        half_made = folder / f"{camera.name}.part.png"
        plotter.screenshot(str(half_made))
        os.replace(half_made, target)
        out.append(target)
    plotter.close()
    return out


def show(scene: Scene) -> None:
    """Open the scene in a window, to turn it by hand."""
    plotter = _plotter(scene, (1400, 900), off_screen=False)
    _aim(plotter, scene.cameras[0])
    plotter.show()
