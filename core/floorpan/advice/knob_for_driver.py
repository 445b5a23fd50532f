"""Where this layout's knob should be: its drivers' arms, its gate, and what else keeps a hand away."""

import math
from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from floorpan.advice.knob_limits import KnobLimit, capsule_limit, torus_limit
from floorpan.advice.knob_question import ArmAt, KnobQuestion
from floorpan.advice.knob_region import KnobMove, KnobRegion, KnobSide, knob_region, nearest, sides
from floorpan.advice.scan_limit import scan_limit
from floorpan.checks.pairs import limit_for
from floorpan.derive import AreaSurface, Scene, knob_in_neutral, sitting_in
from floorpan.driver import DrivingPosition, Person, Side, shoulder_point, thigh
from floorpan.frames import Floats, Vector
from floorpan.items import Seat, Shifter
from floorpan.items.shifter import GEAR
from floorpan.layout import record_of
from floorpan.progress import Step, Work

SPACING_MM = 10.0
LOOKED_AT_MM = 200.0
"""How far from the present knob, along each axis of the car, a place is looked for."""

WHEEL_RIM, THIGH, DASH, NOT_LOOKED = "wheel rim", "thigh", "dash", "not looked further"


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class KnobAdvice:
    """Where the knob should be, for the drivers as they sit now.

    sides : of the region's boundary, largest first; none of an empty region
    move  : from the present knob to the nearest place inside; None of an empty region
    """

    region: KnobRegion
    sides: tuple[KnobSide, ...]
    move: KnobMove | None


def where_the_knob_should_be(scene: Scene, spacing_mm: float = SPACING_MM) -> Work[KnobAdvice | None]:
    """Work out the region for the first shifter; None where nobody drives or nothing is shifted."""
    shifter = next(iter(scene.layout.of(Shifter)), None)
    arms = tuple(arms_of(scene))
    if shifter is None or not arms:
        return None
    yield Step(0.0, "Gathering what keeps a hand away")
    limits: list[KnobLimit] = []
    for making in _limits(scene, shifter):
        limits += yield from making
    question = question_for(shifter, arms, tuple(limits))
    region = yield from knob_region(question, spacing_mm)
    yield Step(0.98, "Looking for the nearest place")
    if region.empty:
        return KnobAdvice(region=region, sides=(), move=None)
    return KnobAdvice(region=region, sides=sides(region), move=nearest(region))


def question_for(shifter: Shifter, arms: tuple[ArmAt, ...], limits: tuple[KnobLimit, ...]) -> KnobQuestion:
    """The question for a shifter's gate as it is, moved bodily; reverse is held by its lift ring."""
    record = record_of(shifter)
    neutral = np.array(knob_in_neutral(shifter))
    gears = record.axes(shifter)[0].stops
    grips = np.array([record.grips(shifter, {GEAR: gear})[0].at_mm for gear in gears])
    return KnobQuestion(
        arms=arms,
        gears=gears,
        grips_mm=grips - neutral,
        present_mm=knob_in_neutral(shifter),
        limits=limits,
    )


def arms_of(scene: Scene) -> Iterator[ArmAt]:
    """Every driver's shifting arm at every used notch, belts tight."""
    for person, seat, notch in _seated(scene):
        sitting = sitting_in(person, seat, notch)
        x, y, z = shoulder_point(
            person, sitting.h_point, sitting.back_deg, scene.hand_side(), turn_deg=sitting.turn_deg
        )
        yield ArmAt(
            name=f"{person.name}, notch {notch}",
            shoulder_mm=(float(x), float(y), float(z)),
            upper_mm=person.upper_arm_mm,
            lower_mm=person.forearm_mm(),
            elbow_least_deg=person.elbow_least_deg,
            elbow_most_deg=person.elbow_most_deg,
        )


def _seated(scene: Scene) -> Iterator[tuple[Person, Seat, int]]:
    for person in scene.drivers():
        seat = scene.seat_of(person)
        if seat is not None:
            for notch in person.notches_used:
                yield person, seat, notch


def _limits(scene: Scene, shifter: Shifter) -> Iterator[Work[list[KnobLimit]]]:
    hand = max((one.hand_radius_mm() for one in scene.drivers()), default=0.0)
    wanted = hand + limit_for(scene, "hand-scan").value
    yield _thighs(scene, wanted)
    yield _rim(scene.layout.driving_position, wanted)
    yield _looked_at(shifter)
    low, high = _hand_box(shifter)
    for area in scene.areas():
        if area.kind == DASH:
            yield _scanned(area, low, high, wanted)


def _thighs(scene: Scene, radius: float) -> Work[list[KnobLimit]]:
    """Both thighs of every driver at every used notch, as they are drawn."""
    found = []
    both: tuple[Side, Side] = ("left", "right")
    for person, seat, notch in _seated(scene):
        sitting = sitting_in(person, seat, notch)
        for side in both:
            for solid in thigh(sitting.h_point, seat.cushion_deg, side, sitting.turn_deg):
                a, b = (_vector(end) for end in solid.points()[:2])
                found.append(capsule_limit(THIGH, a, b, solid.hull.radius_mm, radius))
    yield Step(0.05, "Gathering what keeps a hand away")
    return found


def _rim(position: DrivingPosition, radius: float) -> Work[list[KnobLimit]]:
    """The wheel's rim, where its centre was taken."""
    yield Step(0.06, "Gathering what keeps a hand away")
    if position.wheel_mm is None:
        return []
    tilt = math.radians(position.wheel_deg)
    tube = position.rim_mm / 2.0
    return [
        torus_limit(
            WHEEL_RIM,
            position.wheel_mm,
            (math.cos(tilt), 0.0, math.sin(tilt)),
            position.wheel_across_mm / 2.0 - tube,
            tube,
            radius,
        )
    ]


def _scanned(area: AreaSurface, low: Vector, high: Vector, radius: float) -> Work[list[KnobLimit]]:
    limit = yield from scan_limit(area.kind, area.surface.mesh, low, high, radius)
    return [] if limit is None else [limit]


def _looked_at(shifter: Shifter) -> Work[list[KnobLimit]]:
    """The box about the present knob; beyond it nobody asked."""
    present = np.array(knob_in_neutral(shifter))

    def margin(points: Floats) -> Floats:
        room: Floats = LOOKED_AT_MM - np.abs(points - present).max(axis=1)
        return room

    yield Step(0.08, "Gathering what keeps a hand away")
    return [KnobLimit(name=NOT_LOOKED, margin=margin, neutral_only=True)]


def _hand_box(shifter: Shifter) -> tuple[Vector, Vector]:
    """Low and high corner of the box in which the hand's centre may be in any gear."""
    record = record_of(shifter)
    grips = np.array([record.grips(shifter, {GEAR: gear})[0].at_mm for gear in record.axes(shifter)[0].stops])
    return _vector(grips.min(axis=0) - LOOKED_AT_MM), _vector(grips.max(axis=0) + LOOKED_AT_MM)


def _vector(values: Floats) -> Vector:
    x, y, z = (float(value) for value in values)
    return x, y, z
