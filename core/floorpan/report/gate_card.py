"""The gate card: the shift pattern with the worst verdict of each gear, and what stands behind it."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from floorpan.checks.finding import WORST_FIRST, Finding, margin, rank
from floorpan.items import Shifter
from floorpan.items.lever import NEUTRAL, GateSlot
from floorpan.items.shifter_gate import slots_of
from floorpan.items.states import stops_of
from floorpan.report import words
from floorpan.report.display import Drawing, Mark, Point, Stroke, Words, circle, line
from floorpan.report.naming import axis_name, gear_name
from floorpan.report.palette import EDGE, GROUND, INK, colour
from floorpan.report.shapes import shape

_PLANE_MM, _ROW_MM, _EDGE_MM = 15.0, 11.0, 7.0
_SHAPE_MM, _TYPE_MM = 3.8, 3.4
_OF_SHIFTER, _OF_DRIVER = ("lever", "knob"), ("hand", "forearm", "upper arm")
_DRIVER = "driver-"
# A bottle lifted past the lever, what drips on it, an elbow on its rest: told of bottle and rest, not of shifting.
_BESIDE = ("lift-out", "drip", "armrest")


@dataclass(frozen=True, slots=True, kw_only=True)
class GearLine:
    """What was found in one gear.

    reach : the reach with the belts tight of whom least is sure
    elbow : the worst elbow of the same person, belts tight
    gap   : the least gap of shifting hand and arm, lever and knob while the lever stands there
    worst : the worst of all of these, the way to the gear among it; not of what is lifted past the lever meanwhile
    sure  : whether all that tells of the lever standing there is judged as things stand
    """

    gear: str
    title: str
    reach: Finding | None
    elbow: Finding | None
    gap: Finding | None
    worst: Finding | None
    sure: bool = True


def gear_lines(findings: Iterable[Finding], shifter: Shifter) -> tuple[GearLine, ...]:
    """A line per gear of a shifter, neutral last, a straight gate's from the front; the way to a gear counts as it."""
    held: dict[str, list[Finding]] = {}
    for finding in sorted((one for one in findings if not one.check.startswith(_BESIDE)), key=rank):
        for gear in _gears_of(finding, shifter):
            held.setdefault(gear, []).append(finding)
    slots = slots_of(shifter)
    return tuple(_line(gear, held.get(gear, []), shifter) for gear in in_reading_order(shifter, slots))


def in_reading_order(shifter: Shifter, slots: Sequence[GateSlot]) -> tuple[str, ...]:
    """The gears as they are listed: neutral last; those of a straight gate from the front."""
    if shifter.gate == "straight":
        return tuple(slot.gear for slot in sorted(slots, key=lambda slot: slot.detent))
    return (*(slot.gear for slot in slots if slot.gear != NEUTRAL), NEUTRAL)


def _gears_of(finding: Finding, shifter: Shifter) -> tuple[str, ...]:
    stop = _stop(finding, shifter)
    ends = tuple(part for part in stop.split("-") if part)
    return ends if len(ends) < 2 else tuple(end for end in ends if end != NEUTRAL)


def _stop(finding: Finding, shifter: Shifter) -> str:
    return stops_of(finding.state, shifter.id).get("gear", "")


def _line(gear: str, own: list[Finding], shifter: Shifter) -> GearLine:
    tight = [f for f in own if not any(axis_name(a) == "belts" and stop == "loose" for a, stop in f.state)]
    reach = min((f for f in tight if f.check == "reach"), key=_least_sure, default=None)
    who = reach.subjects[0] if reach is not None else None
    elbows = (f for f in tight if f.check == "elbow" and who in (None, f.subjects[0]))
    there = [f for f in tight if _stop(f, shifter) == gear]
    standing = [f for f in there if _of_the_shift(f, shifter)]
    return GearLine(
        gear=gear,
        title=gear_name(gear),
        reach=reach,
        elbow=next(elbows, None),
        gap=_least(standing),
        worst=tight[0] if tight else None,
        sure=not any(f.stale for f in there),
    )


def _least_sure(finding: Finding) -> tuple[bool, float, int, str]:
    """Sort key: who falls short first, then of whom least is sure; what has no number stands where nothing is."""
    sure = 0.0 if finding.value is None else margin(finding.value, finding.limit) - finding.uncertainty
    return finding.verdict != "short", sure, WORST_FIRST.index(finding.verdict), finding.id


def _of_the_shift(finding: Finding, shifter: Shifter) -> bool:
    """Whether it is a gap of the hand on the knob, its arm, the lever or the knob; not of a hand on something else."""
    owners = (subject.partition(".") for subject in finding.subjects)
    return finding.is_gap and any(
        (owner == shifter.id and part in _OF_SHIFTER) or (owner.startswith(_DRIVER) and part in _OF_DRIVER)
        for owner, _, part in owners
    )


def _least(gaps: Sequence[Finding]) -> Finding | None:
    """The least number of gaps, worst first; what is worst without a number is told as that."""
    if not gaps or gaps[0].value is None:
        return gaps[0] if gaps else None
    known = [(f.value, place) for place, f in enumerate(gaps) if f.value is not None]
    return gaps[min(known)[1]]


def gate_card(lines: Sequence[GearLine], shifter: Shifter) -> Drawing:
    """The pattern seen from above, front up, with a shape and a letter in every gear."""
    verdicts = {one.gear: one.worst for one in lines}
    slots = slots_of(shifter)
    least, most = min(slot.plane for slot in slots), max(slot.plane for slot in slots)
    rearmost = max(slot.detent for slot in slots)
    rows = rearmost - min(slot.detent for slot in slots)
    high = 2 * _EDGE_MM + rows * _ROW_MM
    marks: list[Mark] = []
    places: dict[str, Point] = {slot.gear: _place(slot, least, rearmost) for slot in slots}
    middle = places[NEUTRAL][1]
    ends = [_EDGE_MM + (plane - least) * _PLANE_MM for plane in (least, most)]
    if most > least:
        marks.append(line([(ends[0], middle), (ends[1], middle)], colour(EDGE), 0.5))
    for gear, (x, y) in places.items():
        if gear != NEUTRAL:
            marks.append(line([(x, middle), (x, y)], colour(EDGE), 0.5))
    for gear, at in places.items():
        # In a manual gate the slots cross in neutral; in a straight one it is a place like any other.
        if gear == NEUTRAL and shifter.gate == "manual":
            continue
        marks.append(Stroke(path=circle(at, _SHAPE_MM * 0.72), fill=colour(GROUND)))
        worst = verdicts.get(gear)
        marks += shape(worst.verdict if worst is not None else "pending", at, _SHAPE_MM)
        marks.append(
            Words(
                text=gear,
                at=(at[0] + 3.4, at[1] - _TYPE_MM * 0.34),
                size_mm=_TYPE_MM,
                colour=colour(INK),
                bold=True,
            )
        )
    return Drawing(
        width_mm=2 * _EDGE_MM + (most - least) * _PLANE_MM + 3.0,
        height_mm=high,
        marks=tuple(marks),
        says=_says(lines),
    )


def _place(slot: GateSlot, least: int, rearmost: int) -> Point:
    return _EDGE_MM + (slot.plane - least) * _PLANE_MM, _EDGE_MM + _ROW_MM * (rearmost - slot.detent)


def _says(lines: Sequence[GearLine]) -> str:
    told = (
        f"{one.title}: {words.VERDICTS[one.worst.verdict] if one.worst is not None else words.NOT_JUDGED}"
        for one in lines
    )
    return ", ".join(told)
