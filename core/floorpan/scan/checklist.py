"""What to scan, on one page: every area a check asks for, why, and which checks name it."""

from collections.abc import Iterable
from dataclasses import dataclass

from floorpan.errors import BadValue

# Facts of the trade: common practice, no source. In the order a scan is made: tunnel first, outward from there.
_WHY: tuple[tuple[str, str, str], ...] = (
    ("tunnel top", "The console stands on it and the lever comes out of it.", "Bare metal, lever hole and studs too."),
    ("tunnel flank", "The console's sides come down along it.", "Both sides, down to the foot and its lip."),
    ("floor", "Feet stand on it and carpet lies on it.", "Bare metal first, then once more with carpet in."),
    ("dash", "The console ends under it and the hand passes it.", "Its underside and lowest rear edge, from below."),
    ("seat", "It moves past the console at every notch.", "Both seats, inner bolsters; at the notch used."),
    ("handbrake", "The console leaves room for it and for the hand on it.", "Down, and once more fully up."),
    ("wheel rim", "A hand comes from it to the lever.", "At the tilt that is driven."),
    ("belt", "The hand reaches past the buckle.", "Buckles up on their stalks; belts out of the way."),
    ("keep-out", "Something may not be covered, drilled or met there.", "Pipes, looms, control units, drain bungs."),
    ("scan", "Everything else the program measures to.", "Pass over it twice from different sides."),
)  # fmt: skip


@dataclass(frozen=True, slots=True, kw_only=True)
class NeededArea:
    """An area that a check asks for: kind as areas are called, the check's title, and how the matter stands.

    state : missing, supplied (named on a scan, or a placed thing stands for it), or absent (not in this car)
    """

    kind: str
    check: str
    state: str = "missing"

    def __post_init__(self) -> None:
        if self.state not in ("missing", "supplied", "absent"):
            raise BadValue(
                "not-a-choice",
                f"Area {self.kind}: {self.state!r} is not known here.",
                "Use missing, supplied, absent.",
            )


@dataclass(frozen=True, slots=True, kw_only=True)
class ChecklistRow:
    """One line to tick off: area, why it is needed, how to scan it, the checks that name it, how it stands."""

    area: str
    why: str
    how: str
    checks: tuple[str, ...]
    state: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Checklist:
    """The page: rows in the order of scanning, and what holds for the whole scan."""

    rows: tuple[ChecklistRow, ...]
    before: tuple[str, ...]


_BEFORE = (
    "Seats, old console and carpet out for the bare scan; floor clean.",
    "Targets in a random pattern on parts that do not move, at different heights, left in for every scan.",
    "Two or three things of known length in the scan, lying in different directions.",
    "Dull what shines or is black; mask belts, glass and cloth.",
    "Prop or bolt every trim part as it is in use.",
    "Begin on the tunnel, work outward, and come back to where you began.",
)


def checklist(needed: Iterable[NeededArea]) -> Checklist:
    """One row for each area needed; of several states the one that asks most of the builder stands."""
    checks: dict[str, list[str]] = {}
    states: dict[str, str] = {}
    worst = ("absent", "supplied", "missing")
    for one in needed:
        named = checks.setdefault(one.kind, [])
        if one.check not in named:
            named.append(one.check)
        held = states.get(one.kind, one.state)
        states[one.kind] = max(held, one.state, key=worst.index)
    known = {kind: (place, why, how) for place, (kind, why, how) in enumerate(_WHY)}
    other = (len(known), "A check measures to it.", "Pass over it twice from different sides.")
    order = sorted(checks, key=lambda kind: (known.get(kind, other)[0], kind))
    rows = tuple(
        ChecklistRow(
            area=kind,
            why=known.get(kind, other)[1],
            how=known.get(kind, other)[2],
            checks=tuple(checks[kind]),
            state=states[kind],
        )
        for kind in order
    )
    return Checklist(rows=rows, before=_BEFORE)
