"""The elbow's circle and the arcs that the joints leave of it, each end worked by hand.

The hand-worked arm has links 300 and 400 and a grip 500 ahead of the shoulder, torso upright: a right angle at
the elbow, which lies 180 along and 240 off the line. With e out from hanging, the upper arm points 0.6 ahead,
0.8 sin e out and 0.8 cos e down; the forearm 0.8 ahead, 0.6 sin e in and 0.6 cos e up.
"""

import dataclasses
import math

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from floorpan.driver.arm import arm
from floorpan.driver.joints import Hold, JointRanges, torso_axes
from floorpan.driver.obstacles import Obstacles
from floorpan.driver.person import Person, Side
from floorpan.driver.posture import shoulder_point
from floorpan.driver.swivel import Swivel, comfortable_swivel, swivel_circle
from floorpan.errors import BadValue
from floorpan.frames import Pose, Vector

ORIGIN: Vector = (0.0, 0.0, 0.0)
AHEAD: Vector = (-500.0, 0.0, 0.0)
UPRIGHT = torso_axes(0.0, "right")
# Nothing holds such an arm back.
LIMBER = JointRanges(**{field.name: 180.0 for field in dataclasses.fields(JointRanges)})
BALL = Hold(off_top_deg=0.0)
PLACES = st.tuples(*[st.floats(-900.0, 900.0)] * 3)
LINKS = st.floats(150.0, 450.0)


def arcs(
    grip: Vector = AHEAD, hold: Hold = BALL, *, links: tuple[float, float] = (300.0, 400.0), **only: float
):
    ranges = dataclasses.replace(LIMBER, **only)
    return comfortable_swivel(ORIGIN, grip, *links, UPRIGHT, ranges=ranges, hold=hold).by_joints_deg


def degrees(sine: float) -> float:
    return math.degrees(math.asin(sine))


@given(PLACES, PLACES, LINKS, LINKS)
def test_elbows_lie_on_both_spheres(shoulder: Vector, grip: Vector, upper: float, lower: float) -> None:
    assume(abs(upper - lower) + 1.0 < math.dist(shoulder, grip) < upper + lower)
    elbows = swivel_circle(shoulder, grip, upper, lower).elbows(np.linspace(-180.0, 180.0, 73))
    np.testing.assert_allclose(np.linalg.norm(elbows - shoulder, axis=1), upper, rtol=0, atol=1e-9)
    np.testing.assert_allclose(np.linalg.norm(elbows - grip, axis=1), lower, rtol=0, atol=1e-9)


@pytest.mark.parametrize("swivel", [-120.0, -20.0, 0.0, 75.0])
@pytest.mark.parametrize("grip", [AHEAD, (-300.0, 250.0, -100.0), (0.0, 0.0, -500.0)])
def test_the_elbow_is_the_posed_arm_s(grip: Vector, swivel: float) -> None:
    circle = swivel_circle(ORIGIN, grip, 300.0, 400.0)
    posed = arm(ORIGIN, grip, 300.0, 400.0, swivel)
    np.testing.assert_allclose(circle.elbows(np.array([swivel]))[0], posed.elbow_mm, atol=1e-9)


@pytest.mark.parametrize(("links", "span"), [((300.0, 400.0), 700.0), ((450.0, 300.0), 150.0)])
def test_at_full_stretch_and_folded_flat_the_circle_is_a_point(
    links: tuple[float, float], span: float
) -> None:
    circle = swivel_circle(ORIGIN, (-span, 0.0, 0.0), *links)
    assert circle.radius_mm == pytest.approx(0.0, abs=1e-6)
    elbows = circle.elbows(np.arange(0.0, 360.0, 10.0))
    np.testing.assert_allclose(elbows, np.broadcast_to([-links[0], 0.0, 0.0], elbows.shape), atol=1e-6)


def test_a_stretched_arm_has_all_swivels_or_none() -> None:
    stretched = (-700.0, 0.0, 0.0)
    assert arcs(stretched) == ((-180.0, 180.0),)
    assert arcs(stretched, ahead_deg=91.0) == ((-180.0, 180.0),)
    assert arcs(stretched, ahead_deg=89.0) == ()


@pytest.mark.parametrize(
    ("grip", "links"),
    [
        ((-701.0, 0.0, 0.0), (300.0, 400.0)),
        ((-99.0, 0.0, 0.0), (300.0, 400.0)),
        (ORIGIN, (300.0, 300.0)),
        (AHEAD, (0.0, 400.0)),
        (AHEAD, (300.0, -1.0)),
        ((math.nan, 0.0, 0.0), (300.0, 400.0)),
        (AHEAD, (math.inf, 400.0)),
    ],
)
def test_an_arm_that_cannot_be_is_refused(grip: Vector, links: tuple[float, float]) -> None:
    with pytest.raises(BadValue):
        swivel_circle(ORIGIN, grip, *links)
    with pytest.raises(BadValue):
        comfortable_swivel(ORIGIN, grip, *links, UPRIGHT)


@pytest.mark.parametrize(
    "given_",
    [
        {"wrist_to_grip_mm": 401.0},
        {"wrist_to_grip_mm": -1.0},
        {"wanted_deg": math.nan},
        {"clear_mm": math.inf},
    ],
)
def test_a_wrist_off_the_forearm_and_no_numbers_are_refused(given_: dict[str, float]) -> None:
    with pytest.raises(BadValue):
        comfortable_swivel(ORIGIN, AHEAD, 300.0, 400.0, UPRIGHT, **given_)  # type: ignore[arg-type]


def test_a_limber_arm_goes_all_round() -> None:
    assert arcs() == ((-180.0, 180.0),)


# Links 300 and 500 with a grip 400 away make a right angle at the shoulder: the elbow's circle is as large as can
# be, and with the grip to the side the upper arm swings in the plane that flexion is measured in.
SQUARE = (300.0, 500.0)
OUTWARD: Vector = (0.0, 400.0, 0.0)
STRAIGHT_ON: Vector = (-400.0, 0.0, 0.0)


def test_shoulder_ahead_and_back_cut_where_the_goniometer_says() -> None:
    """Check value 2.17: 156 ahead (Greene and Wolf), 50 back (American Medical Association)."""
    [arc] = arcs(OUTWARD, links=SQUARE, ahead_deg=156.0, back_deg=50.0)
    assert arc == pytest.approx((-50.0, 156.0), abs=2e-5)
    [arc] = arcs(OUTWARD, links=SQUARE, ahead_deg=156.0)
    assert arc == pytest.approx((-180.0, 156.0), abs=2e-5)
    [arc] = arcs(OUTWARD, links=SQUARE, back_deg=50.0)
    assert arc == pytest.approx((-50.0, 180.0), abs=2e-5)


def test_shoulder_out_and_across_cut_where_the_goniometer_says() -> None:
    """Check value 2.17: 168 out (Greene and Wolf). Swivels of a right arm forward go out below zero."""
    [arc] = arcs(STRAIGHT_ON, links=SQUARE, out_deg=168.0, across_deg=35.0)
    assert arc == pytest.approx((-168.0, 35.0), abs=2e-5)


def test_between_two_planes_the_shoulder_s_end_follows_an_ellipse() -> None:
    """Upper arm 0.6 ahead and 0.8 sin e out: 40 degrees ahead and 80 out, the meeting point worked by bisection."""
    low, high = 0.0, math.pi / 2
    for _ in range(60):
        e = (low + high) / 2
        raised = math.degrees(math.acos(0.8 * math.cos(e)))
        flat = math.hypot(0.6, 0.8 * math.sin(e))
        used = raised * math.hypot(0.6 / flat / 60.0, 0.8 * math.sin(e) / flat / 80.0)
        low, high = (e, high) if used < 1.0 else (low, e)
    [arc] = arcs(ahead_deg=60.0, out_deg=80.0, across_deg=80.0)
    assert arc == pytest.approx((-math.degrees(low), math.degrees(low)), abs=2e-5)


@pytest.mark.parametrize(("inward", "outward"), [(49.0, 60.0), (30.0, 100.0)])
def test_the_upper_arm_s_turn_cuts_an_elbow_behind_the_hand_straight_below(
    inward: float, outward: float
) -> None:
    """Grip 500 under the shoulder: with the elbow straight behind the arm is not turned; every degree the elbow
    goes out about the upright turns the upper arm in by one. Check value 2.17: 49 in, 60 out."""
    found = arcs((0.0, 0.0, -500.0), turned_in_deg=inward, turned_out_deg=outward)
    [arc] = found
    # Down along the arm the right hand rule takes an elbow behind to the left of the car: across for a right arm.
    assert arc == pytest.approx((-inward, outward), abs=2e-5)


@pytest.mark.parametrize(("bend", "allowed"), [(90.1, True), (89.9, False)])
def test_the_elbow_s_end_is_all_or_nothing(bend: float, allowed: bool) -> None:
    assert bool(arcs(elbow_deg=bend)) == allowed


def test_the_elbow_bends_as_far_as_the_program_says_elsewhere() -> None:
    nearest = 2 * 330.0 * math.sin(math.radians(37.0 / 2))
    for more, allowed in ((0.1, True), (-0.1, False)):
        found = arcs((-nearest - more, 0.0, 0.0), links=(330.0, 330.0), elbow_deg=JointRanges().elbow_deg)
        assert bool(found) == allowed


@pytest.mark.parametrize(("down", "up"), [(76.0, 77.0), (50.0, 60.0)])
def test_the_palm_s_turn_cuts_where_the_plane_of_the_arm_leans(down: float, up: float) -> None:
    """A palm flat on top asks the forearm for atan2(0.8 cos e, sin e) from the thumb's side. Check value 2.17."""
    out_from = math.degrees(math.atan(0.8 / math.tan(math.radians(down))))
    out_to = 180.0 - math.degrees(math.atan(0.8 / math.tan(math.radians(up))))
    [arc] = arcs(palm_down_deg=down, palm_up_deg=up)
    assert arc == pytest.approx((-out_to, -out_from), abs=2e-5)


def test_a_round_knob_lets_the_palm_roll_off_its_top() -> None:
    plain, rolled = arcs(palm_down_deg=76.0), arcs(palm_down_deg=46.0, hold=Hold(off_top_deg=30.0))
    np.testing.assert_allclose(plain, rolled, atol=1e-5)


def test_the_wrist_bends_by_the_forearm_s_slope() -> None:
    """The forearm rises by asin(0.6 cos e) to the grip: bent down by that, or back with the elbow above."""
    [arc] = arcs(wrist_down_deg=30.0)
    start = math.degrees(math.acos(0.5 / 0.6))
    assert arc == pytest.approx((start, 360.0 - start), abs=2e-5)
    [arc] = arcs(wrist_back_deg=30.0)
    assert arc == pytest.approx((start - 180.0, 180.0 - start), abs=2e-5)


def test_a_shaped_knob_bends_the_wrist_sideways() -> None:
    """The forearm heads in by atan(0.75 sin e); a hand straight ahead makes up for it. Check value 2.17: 30, 20."""
    hold = Hold(heading=(-1.0, 0.0, 0.0), off_top_deg=0.0)
    out = degrees(math.tan(math.radians(30.0)) / 0.75)
    across = degrees(math.tan(math.radians(20.0)) / 0.75)
    [arc] = arcs(hold=hold, to_little_finger_deg=30.0)
    assert arc == pytest.approx((-out, 180.0 + out), abs=2e-5)
    [arc] = arcs(hold=hold, to_thumb_deg=20.0)
    assert arc == pytest.approx((180.0 - across, 360.0 + across), abs=2e-5)


def test_on_a_round_knob_the_wrist_goes_no_way_aside() -> None:
    assert arcs(to_thumb_deg=0.0, to_little_finger_deg=0.0) == ((-180.0, 180.0),)


def driven(side: Side, grip: Vector, back: float, turn: float, obstacles: Obstacles) -> Swivel:
    person, hip = Person(id="d-1"), (0.0, 0.0, 0.0)
    x, y, z = shoulder_point(person, hip, back, side, turn_deg=turn)
    links = (person.upper_arm_mm, person.forearm_mm())
    hold = Hold(heading=(-1.0, 0.0, 0.0))
    return comfortable_swivel(
        (float(x), float(y), float(z)),
        grip,
        *links,
        torso_axes(back, side, turn),
        hold=hold,
        obstacles=obstacles,
        clear_mm=10.0,
    )


def bolster(sign: float) -> Obstacles:
    return Obstacles(
        starts=np.array([[0.0, sign * 300.0, 0.0]]),
        ends=np.array([[-200.0, sign * 320.0, 150.0]]),
        radii=np.array([60.0]),
        on_planes=np.array([[0.0, sign * 450.0, 0.0]]),
        free_sides=np.array([[0.0, -sign, 0.1]]),
    )


def same_arcs(found: tuple[tuple[float, float], ...], wanted: list[tuple[float, float]]) -> bool:
    def turned(arcs: object) -> np.ndarray:
        whole = np.sort(np.array(arcs, dtype=float).reshape(-1, 2)[:, 0] % 360.0)
        return np.asarray(whole)

    return len(found) == len(wanted) and np.allclose(turned(found), turned(wanted), atol=1e-4)


@given(st.floats(-420, -250), st.floats(100, 420), st.floats(50, 400), st.floats(0, 35), st.floats(-20, 20))
def test_a_mirrored_arm_swivels_mirrored(x: float, y: float, z: float, back: float, turn: float) -> None:
    try:
        right = driven("right", (x, y, z), back, turn, bolster(1.0))
    except BadValue:
        assume(False)
    left = driven("left", (x, -y, z), back, -turn, bolster(-1.0))
    assert same_arcs(left.by_joints_deg, [(-end, -start) for start, end in right.by_joints_deg])
    assert same_arcs(left.clear_deg, [(-end, -start) for start, end in right.clear_deg])
    assert left.stopped_by == right.stopped_by
    if right.swivel_deg is None:
        assert left.swivel_deg is None
        return
    assert left.swivel_deg == pytest.approx(-right.swivel_deg, abs=1e-4)
    assert left.gap_mm == pytest.approx(right.gap_mm, abs=1e-2)
    np.testing.assert_allclose(np.array(left.elbow_mm) * [1, -1, 1], right.elbow_mm, atol=1e-2)


@given(PLACES, st.floats(-180, 180), st.floats(0, 35), st.floats(-420, -250), st.floats(100, 420))
def test_moving_and_turning_car_and_driver_together_changes_nothing(
    shift: Vector, turn: float, back: float, x: float, y: float
) -> None:
    pose = Pose.turned((0.0, 0.0, 1.0), turn).after(Pose(shift_mm=shift))
    things = bolster(1.0)
    moved = Obstacles(
        starts=pose.apply(things.starts),
        ends=pose.apply(things.ends),
        radii=things.radii,
        on_planes=pose.apply(things.on_planes),
        free_sides=pose.apply(things.free_sides) - pose.apply(np.zeros(3)),
    )
    shoulder = shoulder_point(Person(id="d-1"), ORIGIN, back, "right")
    heading = pose.apply(np.array([-1.0, 0.0, 0.0])) - pose.apply(np.zeros(3))
    found = []
    for place, obstacles, turned, ahead in (
        (Pose(), things, 0.0, np.array([-1.0, 0.0, 0.0])),
        (pose, moved, turn, heading),
    ):
        start, grip = (tuple(place.apply(np.asarray(at)).tolist()) for at in (shoulder, (x, y, 200.0)))
        try:
            one = comfortable_swivel(
                start,
                grip,
                335.0,
                330.0,
                torso_axes(back, "right", turned),
                hold=Hold(heading=tuple(ahead.tolist())),
                obstacles=obstacles,
                clear_mm=10.0,
            )
        except BadValue:
            assume(False)
        found.append((one, place))
    (still, _), (gone, place) = found
    np.testing.assert_allclose(gone.by_joints_deg, still.by_joints_deg, atol=1e-4)
    np.testing.assert_allclose(gone.clear_deg, still.clear_deg, atol=1e-4)
    assert gone.stopped_by == still.stopped_by
    if still.elbow_mm is not None:
        np.testing.assert_allclose(gone.elbow_mm, place.apply(np.array(still.elbow_mm)), atol=1e-2)


def test_the_arm_gives_way_to_a_wall_by_as_much_as_it_must() -> None:
    """A wall below, level: the elbow, 55 thick, may hang 180 deep at the least distance of 10, so 240 cos e = 115."""
    wall = Obstacles(on_planes=np.array([[0.0, 0.0, -180.0]]), free_sides=np.array([[0.0, 0.0, 2.0]]))
    found = comfortable_swivel(
        ORIGIN, AHEAD, 300.0, 400.0, UPRIGHT, ranges=LIMBER, hold=BALL, obstacles=wall, clear_mm=10.0
    )
    e = math.degrees(math.acos(115.0 / 240.0))
    assert found.stopped_by == "something in the way"
    assert found.swivel_deg == pytest.approx(-e, abs=2e-5), "of two ways as near the elbow goes out"
    assert found.gap_mm == pytest.approx(10.0, abs=1e-4)
    assert found.gap_mm >= 10.0 - 1e-8
    [arc] = found.clear_deg
    assert arc == pytest.approx((e, 360.0 - e), abs=2e-5)


def test_the_arm_gives_way_to_a_ball_beside_the_elbow() -> None:
    """A ball of 40 where the elbow would hang: an upper arm 55 thick passes 10 clear where the ball's middle is 105
    off its line, 300 sin g = 105 with cos g = 0.36 + 0.64 cos e. The forearm then is 105.7 off it, 100 would do."""
    at = np.array([[-180.0, 0.0, -240.0]])
    ball = Obstacles(starts=at, ends=at, radii=np.array([40.0]))
    found = comfortable_swivel(
        ORIGIN, AHEAD, 300.0, 400.0, UPRIGHT, ranges=LIMBER, hold=BALL, obstacles=ball, clear_mm=10.0
    )
    e = math.degrees(math.acos((math.sqrt(1.0 - 0.35**2) - 0.36) / 0.64))
    assert found.swivel_deg == pytest.approx(-e, abs=2e-5)
    assert found.gap_mm == pytest.approx(10.0, abs=1e-4)
    assert found.stopped_by == "something in the way"


def test_an_arm_shut_in_has_no_swivel() -> None:
    planes = np.array([[0.0, 0.0, -50.0], [0.0, 0.0, 50.0]])
    shut = Obstacles(on_planes=planes, free_sides=np.array([[0.0, 0.0, 1.0], [0.0, 0.0, -1.0]]))
    found = comfortable_swivel(ORIGIN, AHEAD, 300.0, 400.0, UPRIGHT, obstacles=shut)
    assert found.swivel_deg is None
    assert found.elbow_mm is None
    assert found.clear_deg == ()
    assert found.gap_mm < 0.0


def test_what_is_far_off_leaves_the_arm_as_the_joints_do() -> None:
    far = Obstacles(
        starts=np.array([[0.0, 0.0, 5000.0]]), ends=np.array([[10.0, 0.0, 5000.0]]), radii=np.array([5.0])
    )
    alone, beside = (
        comfortable_swivel(ORIGIN, AHEAD, 300.0, 400.0, UPRIGHT, obstacles=things)
        for things in (Obstacles(), far)
    )
    assert beside.clear_deg == alone.clear_deg == alone.by_joints_deg
    assert alone.gap_mm == math.inf


def test_a_driver_s_hand_on_a_knob_hangs_its_elbow() -> None:
    """The everyday pose: the elbow may hang, go well out and hardly in."""
    person = Person(id="d-1")
    x, y, z = shoulder_point(person, (900.0, -350.0, 200.0), 15.0, "right")
    found = comfortable_swivel(
        (float(x), float(y), float(z)),
        (500.0, 20.0, 400.0),
        person.upper_arm_mm,
        person.forearm_mm(),
        torso_axes(15.0, "right"),
    )
    assert found.stopped_by == "nothing"
    assert found.swivel_deg == 0.0
    [arc] = found.by_joints_deg
    assert arc[0] < -20.0 < 0.0 < arc[1] < 20.0


@pytest.mark.parametrize("wanted", [-170.0, -90.0, 0.0, 60.0, 180.0])
def test_the_swivel_taken_is_the_nearest_of_a_thousand(wanted: float) -> None:
    ranges = JointRanges()
    found = comfortable_swivel(
        ORIGIN, (-450.0, 150.0, -200.0), 300.0, 400.0, UPRIGHT, ranges=ranges, wanted_deg=wanted
    )
    assert found.swivel_deg is not None
    tried = np.linspace(-180.0, 180.0, 3601)
    inside = [
        swivel
        for swivel in tried
        if any((swivel - start) % 360.0 <= end - start for start, end in found.by_joints_deg)
    ]
    least = min(abs((swivel - wanted + 180.0) % 360.0 - 180.0) for swivel in inside)
    assert abs((found.swivel_deg - wanted + 180.0) % 360.0 - 180.0) == pytest.approx(least, abs=0.1)
