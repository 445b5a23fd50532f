"""Every change a builder can make, as (layout, numbers) -> layout.

Ranges are checked where values are made; rules between fields live here. A refused edit raises and changes nothing.
"""

import dataclasses
import hashlib
from collections.abc import Callable, Sequence
from dataclasses import replace
from typing import Any

from floorpan.console import Envelope
from floorpan.driver import Person
from floorpan.errors import BadValue, NoSuchThing, WrongStep
from floorpan.frames import Pose
from floorpan.items import CupHolder, Place, Seat, Shifter, Vessel
from floorpan.layout import (
    STEPS,
    Acceptance,
    Area,
    Before,
    Box,
    Layout,
    LimitChange,
    ScanRef,
    Side,
    Step,
    Thing,
    record_of,
)
from floorpan.limits import LIMITS
from floorpan.scan.axes import AxisPick
from floorpan.scan.centre_lines import CentreLine, fit_line
from floorpan.scan.outlines import Outline

_SLOTS = ((Seat, "seats"), (Envelope, "consoles"), ((Shifter, CupHolder, Vessel), "items"))


def new_id(layout: Layout, kind: str) -> tuple[Layout, str]:
    """A fresh `kind-n`, never used before in this layout, and the layout that remembers it."""
    numbers = dict(layout.last_number)
    numbers[kind] = numbers.get(kind, 0) + 1
    return replace(layout, last_number=tuple(sorted(numbers.items()))), f"{kind}-{numbers[kind]}"


def rename_project(layout: Layout, title: str) -> Layout:
    """Another title."""
    return replace(layout, title=title.strip() or "Untitled")


def set_driver_side(layout: Layout, side: Side) -> Layout:
    """Which side the driver sits; nothing moves."""
    return replace(layout, driver_side=side)


def set_carpet(layout: Layout, carpet_mm: float) -> Layout:
    """One thickness of loose carpet over the whole floor [mm]."""
    return replace(layout, carpet_mm=carpet_mm)


def add_scan(layout: Layout, scan: ScanRef) -> Layout:
    """A scan more; its id is given here, whatever it carried."""
    layout, id = new_id(layout, "scan")
    return replace(layout, scans=(*layout.scans, replace(scan, id=id)))


def change_scan(layout: Layout, id: str, **changes: Any) -> Layout:
    """A scan with other fields; a new unit drops what was pointed at in the old one."""
    scan = layout.scan(id)
    if "unit" in changes and changes["unit"] != scan.unit:
        changes = {
            "picks": (),
            "centre_lines": (),
            "pose": None,
            "crop": None,
            "outlines": (),
            "areas": (),
        } | changes
    changed = replace(scan, **changes)
    return replace(layout, scans=tuple(changed if s.id == id else s for s in layout.scans))


def set_picks(layout: Layout, id: str, picks: Sequence[AxisPick]) -> Layout:
    """The points picked for the axes; the pose set from earlier picks stays until `set_axes`."""
    letters = [pick.id for pick in picks]
    if len(set(letters)) != len(letters):
        raise BadValue("pick-twice", "Two points carry the same letter.", "Pick one of them again.")
    return change_scan(layout, id, picks=tuple(picks))


def set_axes(layout: Layout, id: str, pose: Pose) -> Layout:
    """Set the scan into car axes. The scan moves; what was picked on it and what was placed do not."""
    return change_scan(layout, id, pose=pose)


def set_centre_line(layout: Layout, id: str, line: CentreLine) -> Layout:
    """Pick a centre line of a scan, in place of the one of its kind."""
    fit_line(line, layout.scan(id).pose or Pose())
    others = tuple(held for held in layout.scan(id).centre_lines if held.kind != line.kind)
    return change_scan(layout, id, centre_lines=(*others, line))


def forget_centre_line(layout: Layout, id: str, kind: str) -> Layout:
    """Forget a scan's centre line of a kind."""
    lines = tuple(line for line in layout.scan(id).centre_lines if line.kind != kind)
    return change_scan(layout, id, centre_lines=lines)


def crop(layout: Layout, id: str, box: Box | None) -> Layout:
    """Crop a scan to a box in its own coordinates, or take the crop away."""
    if box is not None and not all(
        low < high for low, high in zip(box.least_mm, box.greatest_mm, strict=True)
    ):
        raise BadValue("crop-inside-out", "The crop leaves nothing.", "Move a grip, or start the crop again.")
    return change_scan(layout, id, crop=box)


def uncrop(layout: Layout, id: str) -> Layout:
    """Take the whole crop of a scan away, box and outlines."""
    return change_scan(layout, id, crop=None, outlines=())


def crop_along(layout: Layout, id: str, outline: Outline) -> Layout:
    """Keep or drop what lies inside a drawn outline, after everything that was cropped before."""
    return change_scan(layout, id, outlines=(*layout.scan(id).outlines, outline))


def forget_outline(layout: Layout, id: str, number: int) -> Layout:
    """Take one outline of a scan's crop back, counted from 0; those after it stay."""
    outlines = layout.scan(id).outlines
    if not 0 <= number < len(outlines):
        raise BadValue("no-such-outline", "There is no such outline.", "Look which ones the scan has.")
    return change_scan(layout, id, outlines=(*outlines[:number], *outlines[number + 1 :]))


def add_area(layout: Layout, scan_id: str, kind: str, box: Box, stands_for: str = "") -> Layout:
    """Name a part of a scan by a box."""
    scan = layout.scan(scan_id)
    number = 1 + sum(area.kind == kind for area in scan.areas)
    slug = kind.replace(" ", "-") + (f"-{number}" if number > 1 else "")
    area = Area(id=f"{scan_id}.{slug}", kind=kind, box=box, stands_for=stands_for)
    return change_scan(layout, scan_id, areas=(*scan.areas, area))


def remove_area(layout: Layout, scan_id: str, area_id: str) -> Layout:
    """Forget a named part of a scan."""
    areas = tuple(area for area in layout.scan(scan_id).areas if area.id != area_id)
    return change_scan(layout, scan_id, areas=areas)


def add(layout: Layout, thing: Thing) -> tuple[Layout, str]:
    """Place a thing; its id is given here, whatever it carried."""
    layout, id = new_id(layout, record_of(thing).kind.replace(" ", "-"))
    placed = replace(thing, id=id)
    _check_relations(layout, placed)
    slot = _slot(placed)
    return _with(layout, slot, (*getattr(layout, slot), placed)), id


def remove(layout: Layout, id: str) -> Layout:
    """Take a thing out. A seat that somebody sits in stays; vessels lose the holder that goes."""
    thing = layout.thing(id)
    if any(person.seat_id == id for person in layout.people):
        raise WrongStep("seat-taken", "Somebody sits in this seat.", "Give the driver another seat first.")
    slot = _slot(thing)
    left = tuple(t for t in getattr(layout, slot) if t.id != id)
    layout = _with(layout, slot, left)
    for vessel in layout.of(Vessel):
        if vessel.stands_in == id:
            layout = _swap(layout, replace(vessel, stands_in=""))
    return layout


def change(layout: Layout, id: str, **changes: Any) -> Layout:
    """A placed thing with other fields. Raises BadValue for a field it does not have or a value out of range."""
    thing = layout.thing(id)
    names = {field.name for field in dataclasses.fields(thing)} - {"id"}
    for name in changes:
        if name not in names:
            raise BadValue(
                "no-such-field", f"{thing.name} has no {name}.", f"Use one of {', '.join(sorted(names))}."
            )
    changed = replace(thing, **changes)
    _check_relations(layout, changed)
    return _swap(layout, changed)


def move(
    layout: Layout,
    id: str,
    *,
    x_mm: float | None = None,
    y_mm: float | None = None,
    z_mm: float | None = None,
) -> Layout:
    """Put a thing at other coordinates in car axes [mm]; what is not given stays."""
    return _placed(
        layout,
        id,
        lambda at: replace(
            at,
            x_mm=at.x_mm if x_mm is None else x_mm,
            y_mm=at.y_mm if y_mm is None else y_mm,
            z_mm=at.z_mm if z_mm is None else z_mm,
        ),
    )


def shift(layout: Layout, id: str, by_mm: tuple[float, float, float]) -> Layout:
    """Move a thing by three distances in car axes [mm]."""
    return _placed(
        layout,
        id,
        lambda at: replace(at, x_mm=at.x_mm + by_mm[0], y_mm=at.y_mm + by_mm[1], z_mm=at.z_mm + by_mm[2]),
    )


def turn(layout: Layout, id: str, by_deg: float) -> Layout:
    """Turn a thing about the upright line through its place, right hand rule [deg]."""
    return _placed(
        layout, id, lambda at: replace(at, turn_deg=(at.turn_deg + by_deg + 180.0) % 360.0 - 180.0)
    )


def mirror(layout: Layout, id: str) -> Layout:
    """Put a thing on the other side of the car's centre plane; a shift pattern does not mirror."""
    return _placed(layout, id, lambda at: replace(at, y_mm=-at.y_mm, turn_deg=-at.turn_deg))


def lock(layout: Layout, id: str, locked: bool) -> Layout:
    """Hold a thing where it is, or let it go."""
    return change(layout, id, locked=locked)


def add_person(layout: Layout, person: Person) -> tuple[Layout, str]:
    """A driver or passenger more, in a seat that exists."""
    layout, id = new_id(layout, person.role)
    placed = replace(person, id=id)
    _check_person(layout, placed)
    return replace(layout, people=(*layout.people, placed)), id


def change_person(layout: Layout, id: str, **changes: Any) -> Layout:
    """A person with other fields."""
    for person in layout.people:
        if person.id == id:
            changed = replace(person, **changes)
            _check_person(layout, changed)
            return replace(layout, people=tuple(changed if p.id == id else p for p in layout.people))
    raise NoSuchThing("no-such-person", f"There is no {id} in this layout.", "Tape a driver first.", id=id)


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


def accept(layout: Layout, step: Step, *, date: str, reason: str = "") -> Layout:
    """Sign a step off as it is now. The date is handed in: the core has no clock."""
    stamp = Acceptance(step=step, date=date, reason=reason, key=step_key(layout, step))
    return replace(layout, accepted=(*(a for a in layout.accepted if a.step != step), stamp))


def open_again(layout: Layout, step: Step) -> Layout:
    """Take a step's acceptance back."""
    return replace(layout, accepted=tuple(a for a in layout.accepted if a.step != step))


def step_key(layout: Layout, step: Step) -> str:
    """A hash of everything a step rests on, so that a later change to it can be told."""
    used = _INPUTS[step](layout)
    return hashlib.sha256(repr(used).encode()).hexdigest()[:16]


def step_mark(layout: Layout, step: Step) -> str:
    """`accepted`, `accepted as it is`, `look again` or `open`."""
    for stamp in layout.accepted:
        if stamp.step == step:
            if stamp.key != step_key(layout, step):
                return "look again"
            return "accepted as it is" if stamp.reason else "accepted"
    return "open"


def _scan_inputs(layout: Layout) -> object:
    return [(s.sha256, s.unit, s.flipped, s.crop, s.outlines, s.good_to_mm, s.areas) for s in layout.scans]


def _axes_inputs(layout: Layout) -> object:
    return [(s.sha256, s.unit, s.picks, s.pose) for s in layout.scans], layout.driver_side


def _driver_inputs(layout: Layout) -> object:
    return layout.people, layout.seats


def _everything(layout: Layout) -> object:
    return replace(layout, accepted=(), title="")


_INPUTS: dict[Step, Callable[[Layout], object]] = {
    "scan": _scan_inputs,
    "axes": _axes_inputs,
    "floor": lambda layout: (_scan_inputs(layout), layout.carpet_mm),
    "driver": _driver_inputs,
    "controls": lambda layout: (_driver_inputs(layout), layout.of(Shifter)),
    "cup": lambda layout: (layout.of(CupHolder), layout.of(Vessel)),
    "console": lambda layout: (layout.consoles, layout.carpet_mm),
    "pieces": lambda layout: layout.consoles,
    "check": _everything,
    "report": _everything,
}
assert set(_INPUTS) == set(STEPS)


def _slot(thing: Thing) -> str:
    return next(slot for kinds, slot in _SLOTS if isinstance(thing, kinds))


def _with(layout: Layout, slot: str, things: tuple[Any, ...]) -> Layout:
    changes: dict[str, Any] = {slot: things}
    return replace(layout, **changes)


def _swap(layout: Layout, thing: Thing) -> Layout:
    slot = _slot(thing)
    return _with(layout, slot, tuple(thing if t.id == thing.id else t for t in getattr(layout, slot)))


def _placed(layout: Layout, id: str, moved: Callable[[Place], Place]) -> Layout:
    thing = layout.thing(id)
    if isinstance(thing, Vessel) and thing.stands_in:
        raise WrongStep("stands-in-well", f"{thing.name} stands in its well.", "Move the cup holder.", id=id)
    if thing.locked:
        raise WrongStep("locked", f"{thing.name} is locked.", "Unlock it on its tag first.", id=id)
    return _swap(layout, replace(thing, place=moved(thing.place)))


def _check_relations(layout: Layout, thing: Thing) -> None:
    if (
        isinstance(thing, Vessel)
        and thing.stands_in
        and thing.stands_in not in {h.id for h in layout.of(CupHolder)}
    ):
        raise WrongStep(
            "no-holder", f"{thing.name} stands in a holder that is not there.", "Place a cup holder first."
        )


def _check_person(layout: Layout, person: Person) -> None:
    seat = next((s for s in layout.seats if s.id == person.seat_id), None)
    if seat is None:
        raise WrongStep("no-seat", "This person has no seat.", "Place a seat first.")
    if not person.notches_used or not all(1 <= notch <= seat.notches for notch in person.notches_used):
        raise BadValue("notch", f"{seat.name} has notches 1 to {seat.notches}.", "Name the notches in use.")
