"""Where the file of a scan that is set into car axes is gone, every gap to it is unseen: nothing may pass as clear."""

from collections.abc import Iterator
from functools import partial

from floorpan.checks.check import Check, Reading
from floorpan.checks.finding import Finding
from floorpan.checks.needed import never_seen
from floorpan.checks.pairs import limit_for
from floorpan.checks.who import Ids, every, hand
from floorpan.console import Envelope
from floorpan.derive import Scene
from floorpan.items import Buckle, Handbrake, Seat, Shifter, Vessel
from floorpan.items.states import NOTHING_MOVES
from floorpan.limits import Limit

GONE = "The scan's file is not in the project. Put it back, or start from the scan again."


def _reads(scene: Scene, *, limit: str, movers: Ids) -> Iterator[Reading]:
    read = {floor.scan.id for floor in scene.floors}
    posed = [scan for scan in scene.layout.scans if scan.pose is not None and scan.id not in read]
    # A scan of other things is only looked at, unless it is all there is.
    for scan in posed:
        if scan.role != "other" or not read:
            for mover in movers(scene):
                yield Reading((mover, scan.id), NOTHING_MOVES, (limit_for(scene, limit),))


def _judge(reading: Reading, *, limit: str) -> Finding:
    (wanted,) = reading.inputs
    assert isinstance(wanted, Limit)
    return never_seen(limit, reading, wanted, met="scan", note=GONE)


CHECKS = tuple(
    Check(
        f"{limit}-unread", "live", partial(_reads, limit=limit, movers=movers), partial(_judge, limit=limit)
    )
    for limit, movers in (
        ("hand-scan", hand),
        ("lever-scan", every(Shifter, ".lever")),
        ("handbrake-scan", every(Handbrake, ".grip")),
        ("press-scan", every(Buckle, ".hand")),
        ("vessel-scan", every(Vessel)),
        ("seat-scan", every(Seat)),
        ("console-scan", every(Envelope)),
    )
)
