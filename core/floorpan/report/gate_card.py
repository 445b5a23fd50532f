"""The gate card: the shift pattern with the worst verdict of each gear, and what stands behind it."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from floorpan.checks.finding import Finding, rank
from floorpan.items import Shifter
from floorpan.items.lever import NEUTRAL, GateSlot
from floorpan.items.shifter_gate import slots_of
from floorpan.report import words
from floorpan.report.display import Drawing, Mark, Point, Stroke, Words, circle, line
from floorpan.report.naming import axis_name, gear_name
from floorpan.report.palette import EDGE, GROUND, INK, colour
from floorpan.report.shapes import shape

_PLANE_MM, _ROW_MM, _EDGE_MM = 15.0, 11.0, 7.0
_SHAPE_MM, _TYPE_MM = 3.8, 3.4


@dataclass(frozen=True, slots=True, kw_only=True)
class GearLine:
    """What was found in one gear: reach and elbow with the belts tight, the least gap, the worst of all."""

    gear: str
    title: str
    reach: Finding | None
    elbow: Finding | None
    gap: Finding | None
    worst: Finding | None


def gear_lines(findings: Iterable[Finding], shifter: Shifter) -> tuple[GearLine, ...]:
    """A line per gear of a shifter, neutral last, a straight gate's from the front; the way to a gear counts as it."""
    held: dict[str, list[Finding]] = {}
    for finding in sorted(findings, key=rank):
        for gear in _gears_of(finding, shifter):
            held.setdefault(gear, []).append(finding)
    slots = slots_of(shifter)
    return tuple(_line(gear, held.get(gear, [])) for gear in in_reading_order(shifter, slots))


def in_reading_order(shifter: Shifter, slots: Sequence[GateSlot]) -> tuple[str, ...]:
    """The gears as they are listed: neutral last; those of a straight gate from the front."""
    if shifter.gate == "straight":
        return tuple(slot.gear for slot in sorted(slots, key=lambda slot: slot.detent))
    return (*(slot.gear for slot in slots if slot.gear != NEUTRAL), NEUTRAL)


def _gears_of(finding: Finding, shifter: Shifter) -> tuple[str, ...]:
    stop = dict(finding.state).get(f"{shifter.id}.gear", "")
    ends = tuple(part for part in stop.split("-") if part)
    return ends if len(ends) < 2 else tuple(end for end in ends if end != NEUTRAL)


def _line(gear: str, own: list[Finding]) -> GearLine:
    tight = [f for f in own if not any(axis_name(a) == "belts" and stop == "loose" for a, stop in f.state)]
    return GearLine(
        gear=gear,
        title=gear_name(gear),
        reach=next((f for f in tight if f.check == "reach"), None),
        elbow=next((f for f in tight if f.check == "elbow"), None),
        gap=next((f for f in own if f.is_gap), None),
        worst=tight[0] if tight else None,
    )


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
