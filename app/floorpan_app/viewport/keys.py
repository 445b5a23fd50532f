"""Keys in the viewport: for the thing in hand where there is one, for the camera where not."""

from PySide6.QtCore import Qt

from floorpan_app.tools.events import Modifiers
from floorpan_app.viewport.camera import Camera

_Key = Qt.Key

TOOL_KEYS: dict[int, str] = {
    _Key.Key_Left: "left",
    _Key.Key_Right: "right",
    _Key.Key_Up: "up",
    _Key.Key_Down: "down",
    _Key.Key_PageUp: "page up",
    _Key.Key_PageDown: "page down",
    _Key.Key_Escape: "escape",
    _Key.Key_Return: "enter",
    _Key.Key_Enter: "enter",
}
"""What goes to the thing in hand, by the name the tools know it by."""

_TURN_DEG = 3.0
_SLIDE_SHARE = 0.02
_ZOOM_SHARE = 0.96

_TURNS = {"left": (1.0, 0.0), "right": (-1.0, 0.0), "up": (0.0, -1.0), "down": (0.0, 1.0)}
_SLIDES = {"left": (-1.0, 0.0), "right": (1.0, 0.0), "up": (0.0, 1.0), "down": (0.0, -1.0)}


def camera_key(camera: Camera, key: int, modifiers: Modifiers) -> bool:
    """Arrows turn about the middle, with Ctrl they slide; page up and down go nearer and farther; Home: whole car.

    Shift is ten times, Alt is fine. Answers whether the key was one of these.
    """
    if key == _Key.Key_Home:
        camera.see_whole_car()
        return True
    name = TOOL_KEYS.get(key, "")
    times = modifiers.times()
    if name in _TURNS and not modifiers.control:
        heading, rise = _TURNS[name]
        camera.turn(camera.eye.target_mm, heading * _TURN_DEG * times, rise * _TURN_DEG * times)
    elif name in _SLIDES:
        right, up = _SLIDES[name]
        step = camera.eye.height_mm() * _SLIDE_SHARE * times
        camera.slide(right * step, up * step)
    elif name in ("page up", "page down"):
        share = _ZOOM_SHARE**times
        camera.zoom(camera.eye.target_mm, share if name == "page up" else 1.0 / share)
    else:
        return False
    return True
