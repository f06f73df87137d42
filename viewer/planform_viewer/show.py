"""A scene in a window, to turn it by hand."""

from __future__ import annotations

from planform.drawing.framing import aim, letter_size
from planform.drawing.scene import Scene
from planform_viewer.quiet import quiet
from planform_viewer.stage import look, stage

UNSEEN = ("vtkEGLRenderWindow", "vtkOSOpenGLRenderWindow")
"""What draws where no display answers."""


def show(scene: Scene, size: tuple[int, int] = (1400, 900)) -> None:
    """Open the scene as its first camera sees it; returns when the window is closed.

    size : width and height [px]
    Raises OSError where there is no display to open it on.
    """
    with quiet():
        plotter = stage(scene, size, off_screen=False)
        window = plotter.render_window
        if window is None or window.GetClassName() in UNSEEN:
            plotter.close()
            raise OSError("the display does not answer")
        for leader in scene.leaders:
            plotter.add_point_labels(
                [0.5 * (leader.start + leader.end)],
                [leader.label],
                font_size=round(letter_size(size)),
                text_color=leader.colour,
                shape_color="white",
                shape_opacity=0.9,
                show_points=False,
                always_visible=True,
                margin=6,
            )
        if scene.cameras:
            camera = scene.cameras[0]
            look(plotter, aim(scene, camera, size, parallel=camera.parallel))
        plotter.show(title=scene.title)
