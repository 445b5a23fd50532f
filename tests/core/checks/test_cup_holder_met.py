"""The cup holder's own body, judged as a console's shell is: beside the hand, lever, handbrake, arm, thigh and seat."""

import math

import pytest

from core.small_case import level_floor, raw_scan, small_layout
from floorpan import edits
from floorpan.checks import Evaluator, Finding, forearm, hand, handbrake, lever, limbs, seat_travel
from floorpan.checks.check import Check
from floorpan.derive import Bench
from floorpan.items import Handbrake, Place, Shifter, gate_table
from floorpan.items.handbrake import angle_deg
from floorpan.layout import Layout
from floorpan.limits import LIMITS
from floorpan.progress import finish
from floorpan.report.sentences import pair_title, sentence

RAW = raw_scan(level_floor(cells=8))
MODULE = {
    "thigh-console": limbs.CHECKS,
    "forearm-console": forearm.CHECKS,
    "seat-console": seat_travel.CHECKS,
}
STANDING = tuple(check for check in lever.CHECKS if check.tier == "live")
ACROSS, WALL = 70.0, 3.0
OUTSIDE = ACROSS / 2 + WALL
FACET = OUTSIDE * (1 / math.cos(math.pi / 24) - 1) + 1e-6
"""Wedges of 15 degrees are drawn around the wall's outside, which so is met by that much too early."""


def with_tube(x_mm: float, y_mm: float, z_mm: float, depth_mm: float = 200.0) -> Layout:
    """The small car with nothing but a straight tube of a cup holder in it, no vessel and no console."""
    layout = edits.remove(edits.remove(small_layout(RAW), "vessel-1"), "console-1")
    layout = edits.change_person(layout, "driver-1", notches_used=(6,))
    place = Place(x_mm=x_mm, y_mm=y_mm, z_mm=z_mm)
    return edits.change(
        layout, "cup-holder-1", place=place, depth_mm=depth_mm, mouth_mm=ACROSS, base_mm=ACROSS, wall_mm=WALL
    )


def judged(layout: Layout, checks: tuple[Check, ...]) -> dict[str, Finding]:
    found = finish(Evaluator(Bench({RAW.sha256: RAW}), checks).settle(layout))
    return {one.id: one for one in found if "cup-holder-1" in one.subjects}


def test_knuckles_beside_a_tube_in_every_gear_and_between() -> None:
    """Closed form: a ball beside an upright drum, level with it: their axes apart less both radii."""
    at = (150.0, 130.0)
    layout = with_tube(*at, 180.0)
    [shifter], found = layout.of(Shifter), judged(layout, hand.CHECKS)
    radius = layout.people[0].hand_radius_mm()
    for place in gate_table(shifter):
        x, y, z = place.knob_mm
        assert 180.0 < z < 380.0
        wanted = math.hypot(x - at[0], y - at[1]) - radius - OUTSIDE
        finding = found[f"hand-console:driver-1.hand:cup-holder-1:shifter-1.gear={place.gear}"]
        assert wanted - FACET <= finding.value <= wanted + 1e-6  # type: ignore[operator]
        assert finding.limit is LIMITS["hand-console"]
    assert "hand-console:driver-1.hand:cup-holder-1:shifter-1.gear=N-1" in found


def test_the_lever_meets_a_holder_and_that_is_told() -> None:
    layout = with_tube(150.0, 130.0, 180.0)
    found = judged(layout, lever.CHECKS)
    neutral = found["lever-vessel:shifter-1.lever:cup-holder-1:shifter-1.gear=N"]
    assert sentence(neutral, layout).startswith("The lever clears the cup holder by ")
    assert pair_title(neutral, layout) == "Lever \u2013 cup holder"
    assert "lever-vessel:shifter-1.lever:cup-holder-1:shifter-1.gear=N-1" in found
    [shifter] = layout.of(Shifter)
    x, y, z = next(one.knob_mm for one in gate_table(shifter) if one.gear == "N")
    through = judged(with_tube(x + OUTSIDE - WALL / 2, y, z - 150.0, 100.0), STANDING)
    assert through["lever-vessel:shifter-1.lever:cup-holder-1:shifter-1.gear=N"].verdict == "hits"


def test_a_handbrake_beside_a_tube() -> None:
    """Closed form: the grip's core runs along the car beside an upright drum."""
    brake = Handbrake(id="new", place=Place(x_mm=500.0, y_mm=200.0))
    down = math.radians(angle_deg(brake, "down"))
    x = 500.0 - (brake.lever_mm - brake.grip_mm / 2) * math.cos(down)
    layout, _ = edits.add(with_tube(x, 320.0, 0.0, 240.0), brake)
    found = judged(layout, handbrake.CHECKS)
    wanted = 120.0 - OUTSIDE - brake.grip_radius_mm
    finding = found["handbrake-console:handbrake-1.grip:cup-holder-1:handbrake-1.lever=down"]
    assert wanted - FACET <= finding.value <= wanted + 1e-6  # type: ignore[operator]
    assert sentence(finding, layout).startswith("The handbrake grip clears the cup holder by ")
    assert "handbrake-console:handbrake-1.grip:cup-holder-1:handbrake-1.lever=down-half" in found


@pytest.mark.parametrize(
    ("part", "check"),
    [
        ("driver-1.thigh right", "thigh-console"),
        ("driver-1.forearm", "forearm-console"),
        ("driver-1.upper arm", "forearm-console"),
        ("seat-1", "seat-console"),
    ],
)
def test_a_holder_that_stands_in_the_way_is_met_and_one_aside_is_not(part: str, check: str) -> None:
    # Where the arm bends to the knob.
    layout = edits.move(with_tube(-600.0, 600.0, 0.0), "shifter-1", x_mm=100.0, y_mm=-100.0, z_mm=200.0)
    aside = [
        one
        for one in judged(layout, MODULE[check]).values()
        if one.check == check and one.subjects[0] == part
    ]
    assert aside
    assert {one.verdict for one in aside} == {"clear"}
    at = next(one.at_mm for one in aside if one.at_mm is not None)[0]
    moved = edits.move(layout, "cup-holder-1", x_mm=at[0], y_mm=at[1] + OUTSIDE, z_mm=at[2] - 100.0)
    met = [
        one for one in judged(moved, MODULE[check]).values() if one.check == check and one.subjects[0] == part
    ]
    assert any(one.verdict in ("hits", "short") for one in met)
    assert any("the cup holder" in sentence(one, moved) for one in met)


def test_a_ring_over_the_mouth_is_met_as_well() -> None:
    """The hand is over the tube and level with the ring, which so is nearer than the wall 150 below."""
    layout = with_tube(150.0, 130.0, 0.0, 60.0)
    [shifter] = layout.of(Shifter)
    x, y, z = next(one.knob_mm for one in gate_table(shifter) if one.gear == "N")
    layout = edits.move(layout, "cup-holder-1", z_mm=z - 150.0 - 60.0)
    ringed = edits.change(layout, "cup-holder-1", ring_mm=ACROSS, ring_over_mm=150.0)
    id = "hand-console:driver-1.hand:cup-holder-1:shifter-1.gear=N"
    wanted = math.hypot(x - 150.0, y - 130.0) - layout.people[0].hand_radius_mm() - OUTSIDE
    value = judged(ringed, hand.CHECKS)[id].value
    assert wanted - FACET <= value <= wanted + 1e-6  # type: ignore[operator]
    assert judged(layout, hand.CHECKS)[id].value > wanted + 20.0  # type: ignore[operator]
