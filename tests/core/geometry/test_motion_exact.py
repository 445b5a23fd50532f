"""The least gap of a motion against samples so close that no point moves over 0.02 mm from one to the next.

Never above them by more than 1e-6 mm, never below by more than 0.1 mm: shifter legs, the handbrake's arc, a seat's
slide, against a can, the other's parts and a rough floor.
"""

import functools
import math
from collections.abc import Callable

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.geometry.rough_floor import rough_floor
from core.small_case import level_floor, raw_scan, small_layout
from floorpan import edits
from floorpan.checks.gaps import ROOMY_MM, WITHIN_MM, least
from floorpan.derive import Bench, Motion, Scene
from floorpan.geometry.approach import GapMemory
from floorpan.geometry.clearance import body_gap
from floorpan.geometry.mesh import Mesh
from floorpan.geometry.motion import LeastOverMotion, least_over_motion
from floorpan.geometry.near import Near
from floorpan.geometry.solids import Body, Solid, ball
from floorpan.geometry.surface import Surface
from floorpan.items import Handbrake, Place
from floorpan.items.states import state_of
from floorpan.progress import finish

SAMPLE_MM = 0.02


@functools.cache
def scene() -> Scene:
    """The small car with a can close by the knob and a handbrake behind it."""
    raw = raw_scan(level_floor())
    layout, _ = edits.add(small_layout(raw), Handbrake(id="new", place=Place(x_mm=330.0, y_mm=20.0)))
    layout = edits.move(layout, "cup-holder-1", x_mm=95.0, y_mm=0.0, z_mm=100.0)
    layout = edits.change(layout, "seat-1", notches=4)
    bench = Bench({raw.sha256: raw})
    finish(bench.make_floors(layout))
    return bench.scene(layout)


@functools.cache
def floor() -> Surface:
    """A rough floor whose tunnel reaches up between lever and handbrake."""
    mesh = rough_floor(30_000)
    return Surface(Mesh(mesh.points - [800.0, 0.0, 130.0], mesh.faces))


def motion(mover: str, axis: str, leg: tuple[str, str]) -> Motion:
    rest = {one: stops[0] for one, stops in scene().axes_of(mover) if one != axis}
    return scene().motion(mover, state_of(rest), axis, leg)


def to(other: str) -> Callable[[Body], Near]:
    if other == "floor":
        memory = GapMemory()
        return lambda body: floor().gap(body, memory=memory)
    stands = scene().body(other, state_of({axis: stops[0] for axis, stops in scene().axes_of(other)}))
    return lambda body: body_gap(body, stands)


def sampled(moving: Motion, measure: Callable[[Body], Near]) -> float:
    shares = np.linspace(0.0, 1.0, math.ceil(moving.travel_mm / SAMPLE_MM) + 1)
    return min(measure(moving.at(float(share))).distance_mm for share in shares)


def told(moving: Motion, measure: Callable[[Body], Near]) -> LeastOverMotion:
    if moving.swept is not None:
        return LeastOverMotion(measure(moving.swept).distance_mm, 0.0, 0.0, 1)
    return least_over_motion(
        lambda share: measure(moving.at(share)).distance_mm, moving.travel_mm, within_mm=WITHIN_MM
    )


GEAR, LEVER, NOTCH = "shifter-1.gear", "handbrake-1.lever", "seat-1.notch"
LEGS = [("N", gear) for gear in ("1", "2", "3", "4", "5", "R")]
ARC = [("down", "half"), ("half", "up")]
ALL = [
    *((f"{part}", GEAR, leg, other) for part in ("driver-1.hand", "shifter-1.lever", "shifter-1.knob")
      for leg in LEGS for other in ("vessel-1", "handbrake-1.grip", "floor")),
    *((f"handbrake-1.{part}", LEVER, leg, other) for part in ("grip", "hand") for leg in ARC
      for other in ("vessel-1", "shifter-1.knob", "floor")),
    *(("seat-1", NOTCH, leg, other) for leg in [("1", "4")]
      for other in ("vessel-1", "shifter-1.lever", "handbrake-1", "floor")),
]  # fmt: skip
QUICK = [
    ("driver-1.hand", GEAR, ("N", "3"), "vessel-1"),
    ("seat-1", NOTCH, ("1", "2"), "handbrake-1"),
]


@pytest.mark.parametrize(
    ("mover", "axis", "leg", "other"),
    [*QUICK, *(pytest.param(*case, marks=pytest.mark.long) for case in ALL)],
    ids=lambda one: "-".join(one) if isinstance(one, tuple) else str(one),
)
def test_least_of_a_motion_against_close_samples(
    mover: str, axis: str, leg: tuple[str, str], other: str
) -> None:
    moving, measure = motion(mover, axis, leg), to(other)
    found, dense = told(moving, measure), sampled(moving, measure)
    assert found.floor_mm <= dense + 1e-6
    assert found.floor_mm >= dense - 0.1
    # What is told as met was measured there: the least there is lies no higher.
    assert found.gap_mm <= dense + WITHIN_MM


waves = st.lists(st.tuples(st.floats(0, 1), st.floats(0.05, 1), st.floats(-30, 30)), min_size=1, max_size=5)


def valleys(held: list[tuple[float, float, float]]) -> Callable[[float], float]:
    """The least of a few V-shaped valleys: 100 mm a share at the steepest, its least known from their feet."""
    return lambda share: min(foot + 100.0 * steep * abs(share - at) for at, steep, foot in held)


@given(waves)
def test_valleys_are_found_to_what_is_promised(held: list[tuple[float, float, float]]) -> None:
    found = least_over_motion(valleys(held), 100.0, within_mm=0.1, most=100_000)
    lowest = min(foot for _, _, foot in held)
    assert found.floor_mm - 1e-9 <= lowest <= found.gap_mm + 1e-9
    assert found.step_mm <= 0.1


@given(waves, st.floats(-20, 40))
def test_a_roomy_motion_is_known_to_a_twentieth_of_what_it_has_to_spare(
    held: list[tuple[float, float, float]], wanted: float
) -> None:
    """It ends early where roomy, and still nothing on the way is nearer than wanted."""
    found = least_over_motion(valleys(held), 100.0, within_mm=0.1, wanted_mm=wanted, most=100_000)
    lowest = min(foot for _, _, foot in held)
    assert found.floor_mm - 1e-9 <= lowest <= found.gap_mm + 1e-9
    assert found.step_mm <= max(0.1, (found.gap_mm - wanted) / 20) + 1e-9
    if found.gap_mm > wanted + 0.1:
        assert lowest >= wanted


def test_few_looks_say_how_little_they_know() -> None:
    found = least_over_motion(valleys([(0.37, 0.6, -20.0), (0.9, 0.3, -12.0)]), 100.0, most=4)
    assert found.looked <= 4
    assert found.step_mm > 0.1
    assert found.floor_mm <= -20.0 <= found.gap_mm


@pytest.mark.parametrize(("high", "most_looks"), [(8.0, 400), (60.0, 40), (400.0, 12)])
def test_a_judged_motion_looks_less_where_it_is_roomy(high: float, most_looks: int) -> None:
    """A ball on an arc of 200 over a plane, its lowest point in the middle: 30 wanted, and 5 more is roomy."""
    looks = 0

    def at(share: float) -> Body:
        angle = math.radians(30.0) * (share - 0.4)
        return (Solid(ball([200.0 * math.sin(angle), 0.0, 200.0 * (1 - math.cos(angle)) + high], 5.0)),)

    def measure(body: Body) -> Near:
        nonlocal looks
        looks += 1
        return PLANE.gap(body)

    spot = least(Motion(at, 200.0 * math.radians(30.0)), 30.0 + ROOMY_MM, measure)
    true = high - 5.0
    assert spot.near.distance_mm - spot.step_mm - 1e-9 <= true <= spot.near.distance_mm + 1e-9
    assert spot.step_mm <= max(WITHIN_MM, (spot.near.distance_mm - 30.0 - ROOMY_MM) / 20)
    assert looks <= most_looks


PLANE = Surface(level_floor())


def test_a_way_is_posed_once_for_all_that_stands_about_it() -> None:
    """Counted, not timed: what is met second asks for no pose that the first one asked for, and gets the very same."""
    posed: list[float] = []

    def at(share: float) -> Body:
        posed.append(share)
        return (Solid(ball([200.0 * share, 0.0, 40.0 + 60.0 * share**2], 5.0)),)

    way = Motion(at, 240.0)
    first = least(way, 30.0, PLANE.gap)
    count = len(posed)
    again = least(way, 30.0, PLANE.gap)
    assert len(posed) == count
    assert again.body is first.body
    assert again.near == first.near
