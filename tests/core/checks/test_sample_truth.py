"""Hand, lever, handbrake, thigh, buckle and armrest of the sample car against closed forms, state by state.

What is met is never the program's own stuff where it is round: a bottle is its turned outline, a wheel's rim a torus,
the car the closed form it was scanned from. Flat-sided solids are their corners, measured by a way of its own (see
`floorpan.sample.between`). The truth uses none of the geometry code under test.
"""

import itertools
from dataclasses import dataclass, replace
from typing import Self

import numpy as np
import pytest

from core.checks.test_against_truth import OF_AREA, _truth
from core.sample_case import SampleCase, sample_case
from floorpan import edits
from floorpan.checks import Evaluator, Finding
from floorpan.checks.catalogue import CHECKS
from floorpan.derive import Scene
from floorpan.geometry.mesh import Floats
from floorpan.geometry.solids import Body
from floorpan.items import Armrest, Buckle, Handbrake, Place, Vessel, Wheel
from floorpan.layout import Layout
from floorpan.progress import finish
from floorpan.sample.car import Car
from floorpan.sample.shapes import Ring, turned
from floorpan.sample.truth import gap_to_car

HAND = ("hand-vessel", "hand-console", "hand-scan", "hand-seat")
LEVER = ("lever-vessel", "lever-scan")
BESIDE = (
    *("handbrake-console", "handbrake-vessel", "handbrake-seat", "handbrake-shifter", "handbrake-armrest"),
    *("hand-handbrake", "hand-armrest", "hand-wheel", "hand-thigh", "thigh-console", "thigh-shifter"),
    *("press-console", "press-vessel", "buckle-console", "strap-console", "armrest-seat", "armrest-vessel"),
)
CONTROLS = ("hand-vessel", "hand-console", *LEVER, "handbrake-vessel", "handbrake-console")
JUDGED = tuple(check for check in CHECKS if check.name in (*HAND, *LEVER, *BESIDE))


@dataclass(frozen=True, slots=True, kw_only=True)
class TurnedPiece:
    """A stretch of a body of revolution about an upright axis: the signed distance of its half section.

    low, high : (height [mm] in the car, radius [mm])
    """

    at_mm: tuple[float, float]
    low: tuple[float, float]
    high: tuple[float, float]
    label: str = "turned"

    @property
    def convex(self) -> bool:
        return True

    def distance(self, points: Floats) -> Floats:
        out = np.stack(
            [np.hypot(points[:, 0] - self.at_mm[0], points[:, 1] - self.at_mm[1]), points[:, 2]], 1
        )
        (z0, r0), (z1, r1) = self.low, self.high
        corners = np.array([(0.0, z0), (r0, z0), (r1, z1), (0.0, z1)])
        nearest, inside = np.full(len(out), np.inf), np.ones(len(out), dtype=bool)
        for a, b in itertools.pairwise(corners):
            way = b - a
            share = np.clip((out - a) @ way / (way @ way), 0.0, 1.0)
            nearest = np.minimum(nearest, np.linalg.norm(out - a - share[:, None] * way, axis=1))
            inside &= (out - a) @ np.array([-way[1], way[0]]) >= 0.0
        return np.where(inside, -nearest, nearest)

    def bounds(self) -> Floats:
        wide, (x, y) = max(self.low[1], self.high[1]), self.at_mm
        return np.array([[x - wide, y - wide, self.low[0]], [x + wide, y + wide, self.high[0]]])

    def mirrored(self) -> Self:
        return replace(self, at_mm=(self.at_mm[0], -self.at_mm[1]))


def test_a_turned_piece_is_a_drum_and_a_cone() -> None:
    """By hand: beside, over, past the rim and inside a drum; square to the flank of a cone of 45 deg."""
    drum = TurnedPiece(at_mm=(10.0, 0.0), low=(0.0, 5.0), high=(20.0, 5.0))
    at = np.array([[18.0, 0, 10], [10, 0, 23], [18, 0, 24], [10, 3, 10]], dtype=float)
    np.testing.assert_allclose(drum.distance(at), [3.0, 3.0, 5.0, -2.0])
    cone = TurnedPiece(at_mm=(0.0, 0.0), low=(0.0, 10.0), high=(10.0, 0.001))
    assert cone.distance(np.array([[10.0, 0.0, 10.0]]))[0] == pytest.approx(10.0 / np.sqrt(2.0), abs=1e-3)


def bottle(scene: Scene, id: str) -> Car:
    """The outline of a standing vessel, turned about its axis."""
    placed = scene.placed(id)
    assert isinstance(placed, Vessel)
    at, points = placed.place, [(placed.place.z_mm + up, radius) for up, radius in placed.profile]
    pieces = itertools.pairwise(points)
    return Car(tuple(TurnedPiece(at_mm=(at.x_mm, at.y_mm), low=a, high=b) for a, b in pieces if b[0] > a[0]))


def rim(wheel: Wheel) -> Car:
    """A wheel's rim as a torus."""
    place = turned((wheel.place.x_mm, wheel.place.y_mm, wheel.place.z_mm), about_y_deg=90.0 - wheel.lean_deg)
    radius = (wheel.across_mm - wheel.rim_mm) / 2
    ring = Ring(label="rim", placement=place, ring_radius_mm=radius, tube_radius_mm=wheel.rim_mm / 2)
    return Car((ring,))


def to_round(body: Body, car: Car) -> float:
    return min(gap_to_car(solid.points(), solid.hull.radius_mm, car).gap_mm for solid in body)


def truth(finding: Finding, scene: Scene, case: SampleCase) -> float | None:
    """The closed-form gap of a pair in a state; None where it is to a part of the scan that has no closed form."""
    first, second = finding.subjects
    if second.startswith("vessel-"):
        return to_round(scene.body(first, finding.state), bottle(scene, second))
    if second.startswith("wheel-"):
        wheel = scene.layout.thing(second)
        assert isinstance(wheel, Wheel)
        return to_round(scene.body(first, finding.state), rim(wheel))
    if second.startswith("scan-") and next(a.kind for a in scene.areas() if a.id == second) not in OF_AREA:
        return None
    return _truth(finding, scene, case)


def furnished(case: SampleCase) -> Layout:
    """The sample layout with what else moves: its own handbrake, its wheel, a buckle, an armrest."""
    sizes, layout = case.sizes, case.layout
    x, y, z = sizes.handbrake_pivot_mm
    brake = Handbrake(
        id="new",
        place=Place(x_mm=x, y_mm=y, z_mm=z - 40.0),
        stands_on="none",
        lever_mm=sizes.handbrake_length_mm,
        down_deg=sizes.handbrake_down_deg,
        button_mm=0.0,
    )
    seat, centre = sizes.driver_h_point_mm, sizes.wheel_centre_mm
    inner = seat[1] + 200.0 * sizes.passenger_sign
    things = (
        brake,
        Buckle(id="new", seat_id="seat-1", place=Place(x_mm=seat[0] + 60.0, y_mm=inner, z_mm=150.0)),
        Armrest(id="new", place=Place(x_mm=560.0, y_mm=20.0, z_mm=210.0)),
        Wheel(
            id="new",
            place=Place(x_mm=centre[0], y_mm=centre[1], z_mm=centre[2]),
            across_mm=sizes.wheel_diameter_mm,
            rim_mm=2.0 * sizes.wheel_tube_radius_mm,
            lean_deg=sizes.wheel_tilt_deg,
            stalk_mm=0.0,
        ),
    )
    for thing in things:
        layout, _ = edits.add(layout, thing)
    return layout


def test_pairs_and_states_with_a_closed_form_are_met_within_their_give_or_take() -> None:
    """Over thirty pairs x states of hand, lever and handbrake to bottle, console and scan, and twice as many beside.

    A give or take holds at about 95 %; that of what no scan takes part in is made of bounds and holds always.
    """
    case = sample_case(1)
    layout, bench = furnished(case), case.bench()
    findings = finish(Evaluator(bench, JUDGED).settle(layout))
    scene = bench.scene(layout)
    off: dict[str, list[float]] = {}
    for finding in findings:
        true = None if finding.value is None else truth(finding, scene, case)
        if finding.value is not None and true is not None:
            off.setdefault(finding.check, []).append(abs(finding.value - true) / finding.uncertainty)
    worst = {check: (len(shares), max(shares)) for check, shares in off.items()}
    assert set(off) == {*HAND, *LEVER, *BESIDE}, worst
    of_scan = {check for check in off if check.endswith("-scan")}
    assert all(max(off[check]) <= 1.0 for check in set(off) - of_scan), worst
    assert max(off["lever-scan"]) <= 1.0, worst
    controls = sum(len(off[check]) for check in CONTROLS)
    assert controls >= 30, worst
    shares = [share for some in off.values() for share in some]
    assert len(shares) >= 200
    assert sum(share <= 1.0 for share in shares) >= 0.98 * len(shares), worst
    # The scan rounds a stud of the tunnel off; the hand, 200 away, is off by that.
    assert max(shares) <= 1.5, worst


def test_of_all_gears_the_bottle_is_hit_in_reverse_only() -> None:
    case = sample_case(1)
    checks = tuple(check for check in CHECKS if check.name == "hand-vessel")
    findings = finish(Evaluator(case.bench(), checks).settle(case.layout))
    verdicts = {dict(finding.state)["shifter-1.gear"]: finding.verdict for finding in findings}
    assert set(verdicts) == {"N", "1", "2", "3", "4", "5", "R"}
    assert {gear for gear, verdict in verdicts.items() if verdict == "hits"} == {"R"}
