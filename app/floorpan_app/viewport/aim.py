"""Pointing the drawing toolkit's camera where the eye is."""

from vtkmodules.vtkRenderingCore import vtkRenderer

from floorpan_app.viewport.eye import VIEW_ANGLE_DEG
from floorpan_app.viewport.projection import Projection
from floorpan_app.viewport.scene import Scene


def aim(renderer: vtkRenderer, scene: Scene, projection: Projection, *, coarse: bool) -> None:
    """Make a renderer and what is in it ready to draw what a projection shows."""
    eye, camera = projection.eye, renderer.GetActiveCamera()
    right, up, _ = eye.axes()
    camera.SetPosition(*eye.position())
    camera.SetFocalPoint(*eye.target_mm)
    camera.SetViewUp(*up)
    camera.SetViewAngle(VIEW_ANGLE_DEG)
    camera.SetParallelProjection(eye.parallel)
    camera.SetParallelScale(eye.height_mm() / 2)
    per_pixel = 1.0 / max(projection.pixels_per_mm(eye.target_mm), 1e-9)
    scene.fit(per_pixel, None if eye.parallel else right, coarse=coarse)
    renderer.ResetCameraClippingRange()
