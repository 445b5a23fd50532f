"""Ways to the scan that a card shows, and boxes on it."""

import numpy as np

from floorpan.derive import Bench
from floorpan.frames import STILL, Pose
from floorpan.geometry.mesh import Floats, Mesh
from floorpan.layout import Box, ScanRef
from floorpan_app.cards import words
from floorpan_app.cards.card import Need, Offer
from floorpan_app.desk import Desk

# A box round the whole scan stands off by this much, so that a level sheet has a box too.
_ROUND_MM = 10.0


def scan_in_hand(desk: Desk) -> ScanRef | None:
    """The scan that cards speak of."""
    return desk.scans.of(desk.layout)


def scan_with_axes(desk: Desk) -> ScanRef | None:
    """The scan whose axes place the one in hand: itself, or the one it is joined to."""
    scan = scan_in_hand(desk)
    return desk.layout.scan(scan.joined.onto) if scan is not None and scan.joined is not None else scan


def need_scan(desk: Desk) -> Need | None:
    """That a scan is missing."""
    if scan_in_hand(desk) is not None:
        return None
    return Need(
        told=words.NEED_SCAN,
        offers=(Offer(word=words.GO_TO.format(step=words.TITLES["scan"]), does=lambda: desk.go_to("scan")),),
    )


def need_axes(desk: Desk) -> Need | None:
    """That a scan, or its axes, are missing."""
    if any(scan.pose is not None for scan in desk.layout.scans):
        return None
    offer = Offer(
        word=words.GO_TO.format(step=words.TITLES["axes"]), does=lambda: desk.go_to("axes"), icon="axes"
    )
    return need_scan(desk) or Need(told=words.NEED_AXES, offers=(offer,))


def frame_of(scan: ScanRef) -> Pose:
    """From box coordinates into the scan's own: along the car's axes once they are set."""
    return STILL if scan.pose is None else scan.pose.inverse()


def crop_or_whole(scan: ScanRef, bench: Bench) -> Box | None:
    """The crop; a box round the whole scan where there is none; None while the scan is being made ready."""
    if scan.crop is not None:
        return scan.crop
    if not bench.is_prepared(scan):
        return None
    mesh, pose = bench.prepared(scan).mesh, scan.pose or STILL
    low, high = bench.memory.get("whole box", (mesh, pose), lambda: _box_round(mesh, pose))
    return Box(frame=frame_of(scan), least_mm=_three(low), greatest_mm=_three(high))


def _box_round(mesh: Mesh, pose: Pose) -> tuple[Floats, Floats]:
    """Corners of the box round a mesh that stands at a pose; column by column, for a big one goes slowly by rows."""
    turn = np.reshape(pose.rotation, (3, 3))
    ends = [
        (float(along.min()), float(along.max())) for along in (mesh.points @ turn[axis] for axis in range(3))
    ]
    low, high = (np.array(side) + np.array(pose.shift_mm) for side in zip(*ends, strict=True))
    return low - _ROUND_MM, high + _ROUND_MM


def lies_along(box: Box, scan: ScanRef) -> bool:
    """Whether a box lies along the axes that the scan has now."""
    return box.frame == frame_of(scan)


def _three(values: object) -> tuple[float, float, float]:
    x, y, z = (round(float(value), 3) for value in np.asarray(values))
    return x, y, z
