"""The light on the bench: one lamp from the driver's front left above, a weak one opposite, a little headlight."""

from vtkmodules.vtkRenderingCore import vtkLight, vtkRenderer

# Where each lamp stands seen from what it lights, and how strong it is.
_STANDING = (((-0.55, -0.62, 1.15), 0.70), ((0.9, 0.75, 0.35), 0.16))
_HEADLIGHT = 0.18

LAMPS = len(_STANDING) + 1


def set_lamps(renderer: vtkRenderer) -> None:
    """Replace the renderer's lights by ours."""
    renderer.RemoveAllLights()
    renderer.AutomaticLightCreationOff()
    for place, strength in _STANDING:
        lamp = vtkLight()
        lamp.SetLightTypeToSceneLight()
        lamp.PositionalOff()
        lamp.SetPosition(*place)
        lamp.SetFocalPoint(0.0, 0.0, 0.0)
        lamp.SetIntensity(strength)
        renderer.AddLight(lamp)
    head = vtkLight()
    head.SetLightTypeToHeadlight()
    head.SetIntensity(_HEADLIGHT)
    renderer.AddLight(head)
