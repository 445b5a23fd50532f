"""An area that a check needs and nobody supplied is unseen, until it is named on the scan or said to be absent."""

from collections.abc import Callable, Iterator

from floorpan.checks.check import Check, Reading
from floorpan.checks.finding import Finding
from floorpan.checks.pairs import limit_for
from floorpan.derive import Scene
from floorpan.items import DashEdge, MeshPart
from floorpan.items.states import NOTHING_MOVES
from floorpan.limits import Limit

_NEEDS = "-needs-"


def needed_area(limit: str, kind: str, mover: Callable[[Scene], str | None]) -> Check:
    """A check that speaks only while an area of that kind is missing."""
    name = f"{limit}{_NEEDS}{kind}"

    def reads(scene: Scene) -> Iterator[Reading]:
        who = mover(scene)
        if who is None or kind in scene.layout.absent:
            return
        # A dash whose lower edge was taped, or that is placed from a mesh file, needs no scan.
        meshes = (one.counts_as == "dash or trim" for one in scene.layout.of(MeshPart))
        if kind == "dash" and (scene.layout.of(DashEdge) or any(meshes)):
            return
        if any(area.kind == kind for scan in scene.layout.scans for area in scan.areas):
            return
        yield Reading((who, kind), NOTHING_MOVES, (limit_for(scene, limit),))

    def judge(reading: Reading) -> Finding:
        (wanted,) = reading.inputs
        assert isinstance(wanted, Limit)
        note = f"No part of the scan is named {kind}. Name it on the Floor card, or say this car has none."
        if kind == "dash":
            note = f"{note} A taped lower edge stands for it too."
        return never_seen(limit, reading, wanted, met=kind, note=note)

    return Check(name, "live", reads, judge)


def kind_needed(check: Check) -> tuple[str, str]:
    """(limit, kind of area) of a check that cannot do without that area; ("", "") for any other check."""
    limit, needs, kind = check.name.partition(_NEEDS)
    return (limit, kind) if needs else ("", "")


def never_seen(check: str, reading: Reading, wanted: Limit, *, met: str, note: str) -> Finding:
    """What is said of something that no scan shows."""
    return Finding(
        check=check,
        subjects=reading.subjects,
        state=reading.state,
        verdict="unseen",
        value=None,
        uncertainty=0.0,
        doubts=(),
        limit=wanted,
        met=met,
        note=note,
    )
