"""A thin line round a thing whose colour alone would not set it off from what is behind it."""

from vtkmodules.vtkFiltersHybrid import vtkPolyDataSilhouette
from vtkmodules.vtkRenderingCore import vtkActor, vtkCamera, vtkPolyDataMapper

from floorpan_app.viewport.shade import lift
from floorpan_app.viewport.thing import Part, Trim

_OUTLINE_PX = 1.2


def outline_of(part: Part, camera: vtkCamera, scale: float) -> Trim:
    """The edges at which a part turns away from the eye, found again for every picture; small meshes only."""
    edges = vtkPolyDataSilhouette()
    edges.SetInputData(part.form.shape)
    edges.SetCamera(camera)
    edges.SetProp3D(part.actor)
    edges.SetEnableFeatureAngle(0)
    edges.BorderEdgesOn()
    edges.PieceInvariantOff()
    mapper = vtkPolyDataMapper()
    mapper.SetInputConnection(edges.GetOutputPort())
    mapper.ScalarVisibilityOff()
    actor = vtkActor()
    actor.SetMapper(mapper)
    actor.PickableOff()
    actor.GetProperty().SetLineWidth(_OUTLINE_PX * scale)
    lift(actor)
    return Trim(actor, "ink2")
