"""Common targets in the picture: each under its number, on the scan that is looked at."""

import numpy as np

from floorpan.frames import STILL, Pose, Vector
from floorpan.layout import Layout, ScanRef
from floorpan_app.viewport.marks import PickMark


def targets_on(layout: Layout, scan: ScanRef | None, seen: set[str]) -> tuple[PickMark, ...]:
    """The targets of the scan in hand: on itself where it is in the picture, else on the one it is joined to."""
    if scan is None or not scan.targets:
        return ()
    other = layout.scans[0]
    here = scan.id in seen
    stands = scan if here else other
    if stands.id not in seen:
        return ()
    return tuple(
        PickMark(
            letter=str(number), at_mm=_at(stands.pose, target.here_mm if here else target.there_mm), lit=False
        )
        for number, target in enumerate(scan.targets, 1)
    )


def _at(pose: Pose | None, at_mm: Vector) -> Vector:
    x, y, z = (float(value) for value in (pose or STILL).apply(np.array(at_mm)))
    return x, y, z
