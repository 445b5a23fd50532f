"""What a pose asks of the joints, against poses built joint by joint with a general rotation library."""

import dataclasses
import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.spatial.transform import Rotation

from floorpan.driver.joints import JOINTS, Hold, Joint, JointRanges, room_left_deg, torso_axes
from floorpan.driver.person import Person, Side
from floorpan.driver.posture import shoulder_points
from floorpan.errors import BadValue
from floorpan.frames import Pose, Vector

# Out of range by nothing: what is left is 180 less what the pose asks.
WHOLE = JointRanges(**{field.name: 180.0 for field in dataclasses.fields(JointRanges)})
FLAT = Hold(off_top_deg=0.0)


def asked(upper: np.ndarray, lower: np.ndarray, side: Side, hold: Hold = FLAT) -> dict[Joint, float]:
    rooms = room_left_deg(upper[None], lower[None], torso_axes(0.0, side), WHOLE, hold)[:, 0]
    return {joint: 180.0 - float(room) for joint, room in zip(JOINTS, rooms, strict=True)}


@given(
    st.floats(-180, 180),
    st.floats(5, 170),
    st.floats(-170, 170),
    st.floats(5, 140),
    st.sampled_from(["left", "right"]),
)
def test_raise_turn_and_bend_are_the_ones_built_in(
    plane: float, raised: float, turned: float, bent: float, side: Side
) -> None:
    """A right arm built in order: hanging with the forearm ahead, bent, turned in, then raised in a plane
    (0 ahead, 90 out) by the shortest turn. The left one is its mirror image."""
    ahead, out, up = np.array([-1.0, 0, 0]), np.array([0, 1.0, 0]), np.array([0, 0, 1.0])
    # Turning in takes ahead towards the chest: to the left, about up by the right hand rule.
    inward = Rotation.from_rotvec(turned * up, degrees=True)
    towards = math.cos(math.radians(plane)) * ahead + math.sin(math.radians(plane)) * out
    raising = Rotation.from_rotvec(raised * np.cross(-up, towards), degrees=True)
    forearm = math.cos(math.radians(bent)) * -up + math.sin(math.radians(bent)) * ahead
    upper, lower = raising.apply(-up), (raising * inward).apply(forearm)
    if side == "left":
        upper, lower = upper * [1, -1, 1], lower * [1, -1, 1]
    found = asked(upper, lower, side)
    shoulder = [found[joint] for joint in JOINTS[:4] if math.isfinite(found[joint])]
    assert shoulder == [pytest.approx(raised, abs=1e-6)]
    assert found["upper arm turned in"] == pytest.approx(turned, abs=1e-6)
    assert found["upper arm turned out"] == pytest.approx(-turned, abs=1e-6)
    assert found["elbow joint"] == pytest.approx(bent, abs=1e-6)


@given(
    st.floats(-170, 170),
    st.floats(-80, 80),
    st.floats(-170, 170),
    st.sampled_from(["left", "right"]),
    st.floats(10, 140),
)
def test_palm_and_wrist_are_the_ones_built_in(
    palm_down: float, back: float, to_thumb: float, side: Side, bent: float
) -> None:
    """A right hand built in order on a forearm ahead: palm turned down, wrist bent back, then to the thumb in the
    palm's own plane; the knob stands out of the palm. Knuckles ahead, thumb up, palm to the left is the zero."""
    ahead, left, up = np.array([-1.0, 0, 0]), np.array([0, -1.0, 0]), np.array([0, 0, 1.0])
    # About the forearm ahead the right hand rule takes a palm on the left down when turned back.
    palm = Rotation.from_rotvec(-palm_down * ahead, degrees=True)
    thumb, facing = palm.apply(up), palm.apply(left)
    # Bent back the knuckles go away from where the palm faces.
    wrist = Rotation.from_rotvec(back * np.cross(facing, ahead), degrees=True)
    knuckles, facing = wrist.apply(ahead), wrist.apply(facing)
    aside = Rotation.from_rotvec(to_thumb * np.cross(knuckles, thumb), degrees=True)
    knuckles = aside.apply(knuckles)
    # The upper arm comes down from where the thumb was at zero, above the forearm.
    upper = math.cos(math.radians(bent)) * ahead - math.sin(math.radians(bent)) * up
    flip = np.array([1, -1, 1]) if side == "left" else np.ones(3)
    hold = Hold(axis=plain(-facing * flip), heading=plain(knuckles * flip), off_top_deg=0.0)
    found = asked(upper * flip, ahead, side, hold)
    assert found["palm turned down"] == pytest.approx(palm_down, abs=1e-5)
    assert found["palm turned up"] == pytest.approx(-palm_down, abs=1e-5)
    assert found["wrist bent back"] == pytest.approx(back, abs=1e-5)
    assert found["wrist bent down"] == pytest.approx(-back, abs=1e-5)
    assert found["wrist towards the thumb"] == pytest.approx(to_thumb, abs=1e-5)
    assert found["wrist towards the little finger"] == pytest.approx(-to_thumb, abs=1e-5)


def plain(vector: np.ndarray) -> Vector:
    x, y, z = (float(v) for v in vector)
    return (x, y, z)


def test_the_ranges_are_the_least_of_their_sources() -> None:
    """Check value 2.17, columns Boone and Azen, Greene and Wolf, AAOS, AMA; the elbow is Boone and Azen's."""
    sources = {
        "ahead_deg": (167, 156, 180, 180),
        "back_deg": (62, 60, 50),
        "out_deg": (184, 168, 180, 170),
        "turned_in_deg": (69, 49, 70, 80),
        "turned_out_deg": (104, 84, 90, 60),
        "elbow_deg": (143,),
        "palm_down_deg": (76, 84, 80, 80),
        "palm_up_deg": (82, 77, 80, 80),
        "wrist_down_deg": (76, 73, 80, 60),
        "wrist_back_deg": (75, 65, 70, 60),
        "to_thumb_deg": (22, 25, 20, 20),
        "to_little_finger_deg": (36, 39, 30, 30),
    }
    for name, values in sources.items():
        assert getattr(JointRanges(), name) == min(values), name


def test_a_joint_beyond_its_end_lacks_what_it_is_beyond() -> None:
    """An elbow straight behind, level: 90 back, 50 allowed."""
    upper, lower = np.array([[1.0, 0.0, 0.0]]), np.array([[0.0, 0.0, -1.0]])
    rooms = room_left_deg(upper, lower, torso_axes(0.0, "right"), JointRanges(), Hold())
    assert rooms[JOINTS.index("shoulder back"), 0] == pytest.approx(-40.0)


def test_straight_up_holds_the_least_of_all_planes_and_a_stiff_joint_divides_by_nothing() -> None:
    upper = np.array([[0.0, 0.0, 1.0], [0.0, 0.0, -1.0], [-1.0, 0.0, 0.0]])
    stiff = dataclasses.replace(WHOLE, ahead_deg=0.0, across_deg=35.0)
    rooms = room_left_deg(upper, upper, torso_axes(0.0, "right"), stiff, Hold())[:4].min(axis=0)
    np.testing.assert_allclose(rooms, [-180.0, 0.0, -90.0], atol=1e-6)


def test_a_straight_arm_asks_nothing_of_turns() -> None:
    ahead = np.array([-1.0, 0.0, 0.0])
    found = asked(ahead, ahead, "right")
    assert found["upper arm turned in"] == found["palm turned down"] == 0.0


@pytest.mark.parametrize("side", ["left", "right"])
@pytest.mark.parametrize(("back", "turn", "shoulders"), [(24.0, 0.0, 0.0), (30.0, 15.0, 10.0)])
def test_the_torso_s_axes_carry_the_shoulder(side: Side, back: float, turn: float, shoulders: float) -> None:
    """The same torso as posture's: hip to shoulder up, then out; shoulders turned by the whole loose way."""
    person = Person(id="d-1", loose_forward_mm=0.0, loose_turn_deg=shoulders)
    axes = torso_axes(back, side, turn, shoulders)
    [shoulder] = shoulder_points(person, (0.0, 0.0, 0.0), back, side, np.ones(1), turn)
    np.testing.assert_allclose(person.shoulder_mm * axes.up + person.shoulder_out_mm * axes.out, shoulder)
    handed = np.linalg.det(np.array([axes.ahead, axes.out, axes.up]))
    assert handed == pytest.approx(1.0 if side == "left" else -1.0)
    level = Pose.turned((0.0, 0.0, 1.0), turn).apply(np.array([-1.0, 0.0, 0.0]))
    assert axes.ahead @ level > 0.5


@pytest.mark.parametrize(
    "fields",
    [
        {"axis": (0.0, 0.0, 0.0)},
        {"axis": (math.nan, 0.0, 1.0)},
        {"heading": (0.0, 0.0, 2.0)},
        {"heading": (math.inf, 0.0, 0.0)},
        {"off_top_deg": -1.0},
    ],
)
def test_a_hold_without_a_way_is_refused(fields: dict[str, object]) -> None:
    with pytest.raises(BadValue):
        Hold(**fields)  # type: ignore[arg-type]


@pytest.mark.parametrize("value", [-1.0, 181.0, math.nan])
def test_a_joint_that_turns_by_less_than_nothing_or_more_than_half_round_is_refused(value: float) -> None:
    with pytest.raises(BadValue):
        JointRanges(back_deg=value)
