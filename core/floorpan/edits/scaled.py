"""A scan made larger or smaller by a factor, with everything that was pointed at on it."""

import dataclasses
from dataclasses import replace
from typing import Any

from floorpan.edits.joins import join_by_targets, take_apart
from floorpan.errors import BadValue
from floorpan.frames import Pose
from floorpan.layout import Layout, ScanRef

# Fields that hold places, in the scan's own coordinates; thicknesses, radii and limits stay.
_PLACES = frozenset(
    {
        "at_mm",
        "ends_mm",
        "here_mm",
        "points_mm",
        "corners_mm",
        "deep_mm",
        "least_mm",
        "greatest_mm",
        "seen_from_mm",
    }
)
_LEAST, _MOST = 0.9, 1.1


def scale_scan(layout: Layout, id: str, factor: float) -> Layout:
    """Multiply a scan by a factor, on the builder's word; what was picked on it goes along.

    Raises BadValue for a factor that no scanner's error explains.
    """
    scan = layout.scan(id)
    total = scan.factor * factor
    if not _LEAST <= total <= _MOST:
        raise BadValue(
            "factor-too-far",
            f"A scan is not off by {100.0 * (total - 1.0):+.1f} %.",
            "Look at the unit, and at the lengths that were taped.",
        )
    changed: ScanRef = _scaled(replace(scan, joined=None), factor)
    changed = replace(changed, factor=total, joined=scan.joined)
    scans = tuple(changed if one.id == id else _seen_from(one, id, factor) for one in layout.scans)
    return _joined_again(replace(layout, scans=scans), id)


def _seen_from(scan: ScanRef, id: str, factor: float) -> ScanRef:
    """A scan joined to the one that changed: its targets lie elsewhere there."""
    if scan.joined is None or scan.joined.onto != id:
        return scan
    targets = tuple(replace(one, there_mm=_times(one.there_mm, factor)) for one in scan.targets)
    return replace(scan, targets=targets)


def _joined_again(layout: Layout, id: str) -> Layout:
    """Joins that the change touches stand as their targets say; one that has too few is taken apart."""
    for one in layout.scans:
        if one.joined is None or id not in (one.id, one.joined.onto):
            continue
        try:
            layout = join_by_targets(layout, one.id, one.joined.onto)
        except BadValue:
            layout = take_apart(layout, one.id)
    return layout


def _scaled(value: Any, factor: float) -> Any:
    """The same value with its places multiplied; a pose keeps its turn."""
    if isinstance(value, Pose):
        x, y, z = value.shift_mm
        return replace(value, shift_mm=(factor * x, factor * y, factor * z))
    if isinstance(value, tuple):
        return tuple(_scaled(one, factor) for one in value)
    if not dataclasses.is_dataclass(value) or isinstance(value, type):
        return value
    changes = {}
    for field in dataclasses.fields(value):
        held = getattr(value, field.name)
        changes[field.name] = (
            _times(held, factor) if field.name in _PLACES and held is not None else _scaled(held, factor)
        )
    return replace(value, **changes)


def _times(value: Any, factor: float) -> Any:
    return tuple(_times(one, factor) for one in value) if isinstance(value, tuple) else factor * value
