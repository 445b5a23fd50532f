"""Places and steps in the car, in a builder's words."""

from typing import Final

from floorpan.frames import Vector
from floorpan.layout import Layout
from floorpan.units import System, show_length
from floorpan_app.stage import words

_WAYS: Final = ((words.FORWARD, words.REARWARD), ("", ""), (words.DOWNWARD, words.UPWARD))


def shifted_words(step_mm: Vector, layout: Layout, system: System) -> str:
    """How far a thing is from where it stood: the greatest of the three ways; empty where it has not moved."""
    axis = max(range(3), key=lambda number: abs(step_mm[number]))
    shown = show_length(abs(step_mm[axis]), system)
    if shown == "0":
        return ""
    return words.FROM_WHERE_IT_STOOD.format(n=shown, way=way_word(axis, step_mm[axis] > 0.0, layout))


def step_words(step_mm: Vector, layout: Layout, system: System, *, in_car_axes: bool) -> str:
    """A step as its three ways, as `120 rearward, 30 to the driver side, 12 up`; bare numbers before axes are set."""
    if not in_car_axes:
        return ", ".join(show_length(abs(value), system) for value in step_mm)
    return ", ".join(
        f"{show_length(abs(value), system)} {way_word(axis, value >= 0.0, layout)}"
        for axis, value in enumerate(step_mm)
    )


def way_word(axis: int, positive: bool, layout: Layout) -> str:
    """What going up or down an axis is called."""
    way = _WAYS[axis][int(positive)]
    if axis != 1:
        return way
    to_driver = positive == (layout.driver_side == "right")
    return words.TO_DRIVER_SIDE if to_driver else words.TO_PASSENGER_SIDE
