"""What a builder can change about the whole project: title, side of drive, carpet, limits, what the car has not."""

from dataclasses import replace

from floorpan.errors import NoSuchThing
from floorpan.layout import (
    Before,
    Layout,
    LimitChange,
    Side,
)
from floorpan.limits import LIMITS
from floorpan.scan.carpet import Carpet


def rename_project(layout: Layout, title: str) -> Layout:
    """Another title."""
    return replace(layout, title=title.strip() or "Untitled")


def set_driver_side(layout: Layout, side: Side) -> Layout:
    """Which side the driver sits; nothing moves."""
    return replace(layout, driver_side=side)


def set_carpet(layout: Layout, carpet_mm: float) -> Layout:
    """Carpet as one loose thickness over everything that carries carpet."""
    return replace(layout, carpet_mm=carpet_mm, layers=())


def lay_carpet(layout: Layout, carpet: Carpet) -> Layout:
    """What lies on the floor, layer by layer, wherever an area does not say otherwise."""
    return replace(layout, carpet_mm=carpet.loose_mm, layers=carpet.layers)


def keep_before(layout: Layout, before: Before) -> Layout:
    """Remember the old seat and knob, to compare with."""
    return replace(layout, before=before)


def set_limit(layout: Layout, id: str, value: float, *, upper: float | None = None, note: str = "") -> Layout:
    """Judge by another limit in this project; the shipped value back when it is the same."""
    if id not in LIMITS:
        raise NoSuchThing("no-such-limit", f"There is no limit {id}.", "Look at the list of limits.")
    others = tuple(change for change in layout.limits if change.id != id)
    shipped = LIMITS[id]
    if value == shipped.value and upper == shipped.upper:
        return replace(layout, limits=others)
    return replace(layout, limits=(*others, LimitChange(id=id, value=value, upper=upper, note=note)))


def mark_absent(layout: Layout, kind: str, absent: bool) -> Layout:
    """Say that the car has no such area, so that nothing waits for it."""
    left = tuple(k for k in layout.absent if k != kind)
    return replace(layout, absent=(*left, kind) if absent else left)
