"""Which areas the checks of a layout ask for, and how each stands."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass

from floorpan.checks.catalogue import CHECKS
from floorpan.checks.needed import kind_needed
from floorpan.console import Envelope
from floorpan.items import Buckle, Handbrake, Seat, Shifter, Vessel
from floorpan.layout import AREA_KINDS, Layout
from floorpan.report.checklist_words import ASKS
from floorpan.scan.checklist import Checklist, NeededArea, checklist


def _shifts(layout: Layout) -> bool:
    return layout.driver() is not None and bool(layout.of(Shifter))


@dataclass(frozen=True, slots=True)
class _Asker:
    """What a limit is judged at: the kinds of area its thing comes near, and whether such a thing is there.

    A check measures to every area of a scan; what it comes near is a fact of the trade: common practice, no source.
    """

    limit: str
    kinds: tuple[str, ...]
    is_there: Callable[[Layout], bool]


_ASKERS = (
    _Asker("console-seen", ("tunnel top", "tunnel flank", "floor"), lambda held: bool(held.consoles)),
    _Asker(
        "stands", ("tunnel top", "floor"), lambda held: any(one.stands_on == "floor" for one in held.things())
    ),
    _Asker("lever-scan", ("tunnel top", "dash", "keep-out", "scan"), lambda held: bool(held.of(Shifter))),
    _Asker("hand-scan", ("dash", "seat", "handbrake", "wheel rim", "belt", "keep-out", "scan"), _shifts),
    _Asker(
        "console-scan",
        ("dash", "seat", "handbrake", "belt", "keep-out"),
        lambda held: bool(held.of(Envelope)),
    ),
    _Asker(
        "seat-scan",
        ("tunnel flank", "floor", "handbrake", "belt", "keep-out", "scan"),
        lambda held: bool(held.of(Seat)),
    ),
    _Asker(
        "handbrake-scan", ("tunnel top", "seat", "keep-out", "scan"), lambda held: bool(held.of(Handbrake))
    ),
    _Asker("press-scan", ("belt",), lambda held: bool(held.of(Buckle))),
    _Asker("vessel-scan", ("dash", "handbrake", "keep-out", "scan"), lambda held: bool(held.of(Vessel))),
)


def scan_checklist(layout: Layout) -> Checklist:
    """The page to scan by: the areas that what is placed asks for; all of them before anything is placed."""
    return checklist(asked_for(layout))


def asked_for(layout: Layout) -> Iterator[NeededArea]:
    """Every area with every check that asks for it."""
    bare = not any(layout.things()) and not layout.people
    for asker in _ASKERS:
        if bare or asker.is_there(layout):
            # What a check cannot do without comes first: it says so itself, as long as the area is missing.
            needed = [kind for limit, kind in map(kind_needed, CHECKS) if limit == asker.limit]
            for kind in dict.fromkeys((*needed, *asker.kinds)):
                yield NeededArea(kind=kind, check=ASKS[asker.limit], state=area_state(layout, kind))


def area_state(layout: Layout, kind: str) -> str:
    """`absent` where this car has none, `supplied` where a scan names it or a thing stands for it, else `missing`."""
    if kind in layout.absent:
        return "absent"
    if any(area.kind == kind for scan in layout.scans for area in scan.areas):
        return "supplied"
    placed = {"seat": bool(layout.seats), "scan": bool(layout.scans), "handbrake": bool(layout.of(Handbrake))}
    return "supplied" if placed.get(kind, False) else "missing"


def not_asked_yet(layout: Layout) -> tuple[str, ...]:
    """Kinds of area that nothing placed asks for, in the order of the list of kinds."""
    asked = {needed.kind for needed in asked_for(layout)}
    return tuple(kind for kind in AREA_KINDS if kind not in asked and kind not in layout.absent)
