"""What a builder can change about people: what was taped, what follows from it, and where they sit."""

import math
from collections.abc import Callable
from dataclasses import replace
from typing import Any

import numpy as np

from floorpan.driver import LINKS, BodySize, Person, Sex, Side, filled, sit
from floorpan.driver.bodies import percentile_body
from floorpan.driver.person import KNUCKLE_PAST_GRIP_MM
from floorpan.driver.posture import side_sign
from floorpan.driver.sitting import sunk_mm
from floorpan.edits.ids import new_id
from floorpan.errors import BadValue, NoSuchThing, WrongStep
from floorpan.frames import Floats, Pose, Vector
from floorpan.items import Seat, h_point
from floorpan.layout import Layout


def add_person(layout: Layout, person: Person) -> tuple[Layout, str]:
    """A driver or passenger more, in a seat that exists."""
    layout, id = new_id(layout, person.role)
    placed = filled(replace(person, id=id))
    _seat_of(layout, placed)
    return replace(layout, people=(*layout.people, placed)), id


def remove_person(layout: Layout, id: str) -> Layout:
    """Take a person out; the next driver becomes the design driver."""
    _person(layout, id)
    return replace(layout, people=tuple(one for one in layout.people if one.id != id))


def change_person(layout: Layout, id: str, **changes: Any) -> Layout:
    """A person with other fields. A link that is given counts as taped; what nobody taped follows.

    Raises BadValue for a value out of range and for sizes that do not go together.
    """

    def changed(person: Person) -> Person:
        left = tuple(link for link in person.not_taped if link not in changes)
        return replace(person, **{"not_taped": left, **changes})

    return _with(layout, id, changed)


def not_taped(layout: Layout, id: str, link: str) -> Layout:
    """Let a link follow from the rest of the body instead of the tape."""

    def changed(person: Person) -> Person:
        return replace(
            person, not_taped=tuple(one for one in LINKS if one == link or one in person.not_taped)
        )

    return _with(layout, id, changed)


def set_size(layout: Layout, id: str, measure: str, size: float | None) -> Layout:
    """A further size of a body taped [mm, kg], or forgotten with None; what nobody taped follows."""

    def changed(person: Person) -> Person:
        others = tuple(one for one in person.sizes if one.measure != measure and one.percent is None)
        own = () if size is None else (BodySize(measure=measure, size=size),)
        return replace(person, sizes=(*others, *own))

    return _with(layout, id, changed)


def set_percentile(layout: Layout, id: str, sex: Sex, measure: str, percent: float) -> Layout:
    """A body at a percentile of one measure, nothing taped: the rest follows from that one alone."""
    size = percentile_body(sex, measure, percent)[measure].mean
    own = BodySize(measure=measure, size=round(size, 1), percent=percent)
    return _with(layout, id, lambda person: replace(person, sex=sex, sizes=(own,), not_taped=LINKS))


def set_driving_position(layout: Layout, **changes: Any) -> Layout:
    """Heel point, wheel centre and wheel as taken in the car; None for a place forgets it."""
    return replace(layout, driving_position=replace(layout.driving_position, **changes))


def set_knob_target(layout: Layout, place_mm: Vector | None) -> Layout:
    """Where the knob shall be in neutral, in car axes [mm]; None forgets it. Raises BadValue for no place."""
    if place_mm is not None and not all(math.isfinite(one) and abs(one) <= 10_000.0 for one in place_mm):
        raise BadValue("no-such-place", "A place is three lengths in car axes.", "Type it again, in mm.")
    return replace(layout, knob_target_mm=place_mm)


def set_mix(layout: Layout, men_percent: float) -> Layout:
    """How many of a hundred drivers are men, for shares of drivers."""
    return replace(layout, men_percent=men_percent)


def leave_percentile(layout: Layout, id: str) -> Layout:
    """Forget the percentile a body was chosen by; what nobody taped follows from the rest."""
    return _with(layout, id, _of_nobody_s_percentile)


def set_by_points(
    layout: Layout,
    id: str,
    notch: int,
    *,
    hip_mm: Vector | None = None,
    shoulder_mm: Vector | None = None,
    elbow_mm: Vector | None = None,
    knuckle_mm: Vector | None = None,
) -> Layout:
    """A person by points taped on them in car axes, belted in at a notch [mm]; the shifting arm's side.

    The hip says where they sit in the seat. The shoulder gives torso line, hip to shoulder and shoulder out; with
    the elbow it gives the upper arm, and elbow to the middle knuckle of the hand on the knob the forearm. Lengths are
    kept, not points, so that they hold at every notch and wherever the seat goes.

    Raises BadValue where a length comes out that no body has, or an elbow or knuckle has no point before it.
    """
    side: Side = "right" if layout.driver_side == "left" else "left"

    def changed(person: Person) -> Person:
        seat = _seat_of(layout, person)
        # Whoever is taped is no percentile any more.
        person = _of_nobody_s_percentile(person)
        if hip_mm is not None:
            person = _hip_at(person, seat, notch, hip_mm)
        if shoulder_mm is not None:
            person = _shoulder_at(person, seat, notch, shoulder_mm, side)
        if elbow_mm is not None or knuckle_mm is not None:
            person = _arm_by(person, shoulder_mm, elbow_mm, knuckle_mm)
        return person

    return _with(layout, id, changed)


def _hip_at(person: Person, seat: Seat, notch: int, hip: Vector) -> Person:
    away = _in_seat(seat, np.subtract(hip, h_point(seat, notch)))
    back, right, up = (away - sunk_mm(person, seat.back_deg, seat.foam_mm)).round(3)
    return replace(person, hip_back_mm=float(back), hip_right_mm=float(right), hip_up_mm=float(up))


def _shoulder_at(person: Person, seat: Seat, notch: int, shoulder: Vector, side: Side) -> Person:
    """Torso line, its length and the shoulder's breadth; the hip stays, though a jacket's way follows the lean."""
    hip = sit(person, h_point(seat, notch), seat.back_deg, seat.place.turn_deg, seat.foam_mm).h_point
    rearward, right, up = _in_seat(seat, np.subtract(shoulder, hip))
    leaning = math.degrees(math.atan2(rearward, up)) - seat.back_deg
    leant = replace(
        person,
        lean_off_deg=round(leaning, 4),
        shoulder_mm=round(math.hypot(rearward, up), 3),
        shoulder_out_mm=round(float(side_sign(side) * right), 3),
        not_taped=_taped(person, "shoulder_mm", "shoulder_out_mm"),
    )
    return _hip_at(leant, seat, notch, hip)


def _arm_by(person: Person, shoulder: Vector | None, elbow: Vector | None, knuckle: Vector | None) -> Person:
    if elbow is None or (shoulder is None and knuckle is None):
        raise BadValue(
            "points-missing",
            "An arm is taped from point to point.",
            "Give the elbow, and the shoulder or the knuckle beside it.",
        )
    upper, fore = person.upper_arm_mm, person.forearm_mm()
    known: tuple[str, ...] = ()
    if shoulder is not None:
        upper, known = round(math.dist(shoulder, elbow), 3), ("upper_arm_mm",)
    if knuckle is not None:
        fore = round(math.dist(elbow, knuckle) - KNUCKLE_PAST_GRIP_MM, 3)
        known = (*known, "shoulder_to_grip_mm")
    return replace(
        person, upper_arm_mm=upper, shoulder_to_grip_mm=upper + fore, not_taped=_taped(person, *known)
    )


def _of_nobody_s_percentile(person: Person) -> Person:
    return replace(person, sizes=tuple(one for one in person.sizes if one.percent is None))


def _taped(person: Person, *links: str) -> tuple[str, ...]:
    return tuple(link for link in person.not_taped if link not in links)


def _in_seat(seat: Seat, vector: Floats) -> Floats:
    return Pose.turned((0.0, 0.0, 1.0), -seat.place.turn_deg).apply(np.asarray(vector, dtype=float))


def _person(layout: Layout, id: str) -> Person:
    for person in layout.people:
        if person.id == id:
            return person
    raise NoSuchThing("no-such-person", f"There is no {id} in this layout.", "Tape a driver first.", id=id)


def _with(layout: Layout, id: str, changed: Callable[[Person], Person]) -> Layout:
    person = filled(changed(_person(layout, id)))
    _seat_of(layout, person)
    return replace(layout, people=tuple(person if one.id == id else one for one in layout.people))


def _seat_of(layout: Layout, person: Person) -> Seat:
    seat = next((s for s in layout.seats if s.id == person.seat_id), None)
    if seat is None:
        raise WrongStep("no-seat", "This person has no seat.", "Place a seat first.")
    if not person.notches_used or not all(1 <= notch <= seat.notches for notch in person.notches_used):
        raise BadValue("notch", f"{seat.name} has notches 1 to {seat.notches}.", "Name the notches in use.")
    return seat
