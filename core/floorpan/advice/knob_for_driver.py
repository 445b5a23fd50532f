"""Where this layout's knob should be: its drivers' arms, its gate, and what else keeps a hand away."""

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace

import numpy as np

from floorpan.advice.knob_limits import KnobLimit, capsule_limit, torus_limit
from floorpan.advice.knob_question import ArmAt, KnobQuestion
from floorpan.advice.knob_region import KnobMove, KnobRegion, KnobSide, knob_region, nearest, sides
from floorpan.advice.scan_limit import scan_limit
from floorpan.checks.pairs import limit_for
from floorpan.derive import Scene, knob_in_neutral, sitting_in
from floorpan.driver import Person, Side, shoulder_point, thigh
from floorpan.frames import Floats, Vector, vector_of
from floorpan.items import Seat, Shifter
from floorpan.items.lever import NEUTRAL
from floorpan.items.shifter import GEAR
from floorpan.layout import record_of
from floorpan.progress import Step, Work, part

SPACING_MM = 10.0
LOOKED_AT_MM = 200.0
"""How far from the present knob, along each axis of the car, a place is looked for."""

WHEEL_RIM, THIGH, NOT_LOOKED = "wheel rim", "thigh", "not looked further"

# Where the arms leave room at all is looked at in voxels of this first.
_COARSE_MM = 20.0


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class KnobAdvice:
    """Where the knob should be, for the drivers as they sit now.

    sides    : of the region's boundary, largest first; none of an empty region
    move     : from the present knob to the nearest place inside; None of an empty region
    clear_mm : how far the hand was kept from anything hard
    """

    region: KnobRegion
    sides: tuple[KnobSide, ...]
    move: KnobMove | None
    clear_mm: float

    @property
    def by_mm(self) -> Vector:
        """The way from the present knob to where it should be, in whole mm where that ends inside.

        Of an empty region to the least bad place.
        """
        if self.move is not None and self.move.move_mm is not None:
            x, y, z = self.move.move_mm
            return float(x), float(y), float(z)
        place = self.region.roomiest.place_mm if self.move is None else self.move.place_mm
        return vector_of(np.subtract(place, self.region.question.present_mm))

    @property
    def place_mm(self) -> Vector:
        """Where the knob should be in neutral, in car axes."""
        return vector_of(np.add(self.region.question.present_mm, self.by_mm))


def where_the_knob_should_be(scene: Scene, spacing_mm: float = SPACING_MM) -> Work[KnobAdvice | None]:
    """Work out the region for the first shifter; None where nobody drives or nothing is shifted.

    Limits are the thighs, the wheel rim where its centre was taken, every part of the scan that the hand is checked
    against, and the box of LOOKED_AT_MM about the present knob.
    """
    shifter = next(iter(scene.layout.of(Shifter)), None)
    arms = tuple(arms_of(scene))
    if shifter is None or not arms:
        return None
    yield Step(0.0, "Gathering what keeps a hand away")
    limits = (*_thighs(scene, shifter), *_rim(scene, shifter), _looked_at(shifter))
    question = question_for(shifter, arms, limits)
    box = yield from part(_box_with_room(question), 0.0, 0.1)
    region = yield from part(_among(scene, shifter, question, box, spacing_mm), 0.1, 0.95)
    if region.empty and box is not None:
        # Then places count where not even the arms have room.
        region = yield from part(_among(scene, shifter, question, None, spacing_mm), 0.95, 0.98)
    yield Step(0.98, "Looking for the nearest place")
    return KnobAdvice(
        region=region,
        sides=() if region.empty else sides(region),
        move=None if region.empty else nearest(region),
        clear_mm=limit_for(scene, "hand-scan").value,
    )


def _box_with_room(question: KnobQuestion) -> Work[tuple[Floats, Floats] | None]:
    """Low and high corner of a box that holds the present knob and all places with room; None where none has."""
    region = yield from knob_region(question, _COARSE_MM)
    if region.low_mm is None or region.high_mm is None:
        return None
    present, slack = np.array(question.present_mm), math.sqrt(3.0) * _COARSE_MM
    low = np.minimum(np.array(region.low_mm) - slack, present)
    high = np.maximum(np.array(region.high_mm) + slack, present)
    return np.maximum(low, present - LOOKED_AT_MM), np.minimum(high, present + LOOKED_AT_MM)


def _among(
    scene: Scene,
    shifter: Shifter,
    question: KnobQuestion,
    box: tuple[Floats, Floats] | None,
    spacing_mm: float,
) -> Work[KnobRegion]:
    """The region with the scan among the limits, which is measured about a box of the knob in neutral only."""
    present = np.array(question.present_mm)
    low, high = box if box is not None else (present - LOOKED_AT_MM, present + LOOKED_AT_MM)
    hand_low, hand_high = low + question.grips_mm.min(axis=0), high + question.grips_mm.max(axis=0)
    areas = tuple(scene.areas())
    limits = list(question.limits)
    for number, area in enumerate(areas):
        begin, end = (0.5 * at / len(areas) for at in (number, number + 1))
        measuring = scan_limit(
            area.kind,
            area.surface.mesh,
            vector_of(hand_low),
            vector_of(hand_high),
            _wanted_mm(scene, shifter),
        )
        limit = yield from part(measuring, begin, end)
        limits += [] if limit is None else [limit]
    whole = replace(question, limits=tuple(limits))
    return (yield from part(knob_region(whole, spacing_mm), 0.5, 1.0))


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


def _wanted_mm(scene: Scene, shifter: Shifter) -> float:
    """How far anything hard keeps from the centre of the thickest hand, all round as far as its knuckles reach."""
    grip = record_of(shifter).grips(shifter, {GEAR: NEUTRAL})[0]
    bare = max(grip.radius_mm, grip.knuckles_mm / 2)
    hand = max(one.hand_radius_mm(bare) for one in scene.drivers())
    return hand + limit_for(scene, "hand-scan").value


def _thighs(scene: Scene, shifter: Shifter) -> Iterator[KnobLimit]:
    """Both thighs of every driver at every used notch, as they are drawn."""
    both: tuple[Side, Side] = ("left", "right")
    wanted = _wanted_mm(scene, shifter)
    for person, seat, notch in _seated(scene):
        sitting = sitting_in(person, seat, notch)
        for side in both:
            for solid in thigh(sitting.h_point, seat.cushion_deg, side, sitting.turn_deg):
                a, b = (vector_of(end) for end in solid.points()[:2])
                yield capsule_limit(THIGH, a, b, solid.hull.radius_mm, wanted)


def _rim(scene: Scene, shifter: Shifter) -> Iterator[KnobLimit]:
    """The wheel's rim, where its centre was taken."""
    position = scene.layout.driving_position
    if position.wheel_mm is None:
        return
    tilt = math.radians(position.wheel_deg)
    tube = position.rim_mm / 2.0
    yield torus_limit(
        WHEEL_RIM,
        position.wheel_mm,
        (math.cos(tilt), 0.0, math.sin(tilt)),
        position.wheel_across_mm / 2.0 - tube,
        tube,
        _wanted_mm(scene, shifter),
    )


def _looked_at(shifter: Shifter) -> KnobLimit:
    """The box about the present knob; beyond it nobody asked."""
    present = np.array(knob_in_neutral(shifter))

    def margin(points: Floats) -> Floats:
        room: Floats = LOOKED_AT_MM - np.abs(points - present).max(axis=1)
        return room

    return KnobLimit(name=NOT_LOOKED, margin=margin, neutral_only=True)
