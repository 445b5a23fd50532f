"""Where the knob may be: shells, lenses and slabs in closed form, voxels against judging each, moved and mirrored."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from floorpan.advice import knob_field
from floorpan.advice.knob_limits import KnobLimit, capsule_limit, plane_limit, torus_limit
from floorpan.advice.knob_question import ArmAt, Cause, KnobQuestion
from floorpan.advice.knob_region import KnobRegion, knob_region, nearest, sides
from floorpan.advice.sampled_limit import field_limit
from floorpan.driver.arm import elbow_deg
from floorpan.errors import BadValue
from floorpan.frames import Vector
from floorpan.progress import Step, finish

ORIGIN = (0.0, 0.0, 0.0)
STAYS = np.zeros((1, 3))
GATE = np.array([[-50, -35, 0], [50, -35, 0], [-50, 0, 5], [50, 0, 5], [-50, 35, 0], [55, 35, 12.0]])
GEARS = ("1", "2", "3", "4", "5", "R")
FURTHER = (
    torus_limit("wheel rim", (330.0, -350.0, 600.0), (1.0, 0.0, 0.45), 180.0, 16.0, 55.0),
    capsule_limit("thigh", (700.0, -220.0, 330.0), (350.0, -220.0, 420.0), 80.0, 55.0),
    plane_limit("backrest", (850.0, 0.0, 0.0), (-1.0, 0.0, 0.2), 55.0),
    plane_limit("armrest", (0.0, 0.0, 330.0), (0.0, 0.0, 1.0), 40.0),
)


def an_arm(
    shoulder: Vector = ORIGIN,
    least: float = 75.0,
    most: float = 160.0,
    link: float = 200.0,
    name: str = "d-1",
) -> ArmAt:
    return ArmAt(
        name=name,
        shoulder_mm=shoulder,
        upper_mm=link,
        lower_mm=link,
        elbow_least_deg=least,
        elbow_most_deg=most,
    )


def asked(
    *arms: ArmAt, limits: tuple[KnobLimit, ...] = (), present: Vector = (0.0, 0.0, 500.0)
) -> KnobQuestion:
    return KnobQuestion(arms=arms, gears=("3",), grips_mm=STAYS, present_mm=present, limits=limits)


def a_car(shift: Vector = ORIGIN, side: float = 1.0) -> KnobQuestion:
    """Two notches, six gears, four limits; the whole of it moved, and with side -1 mirrored left for right."""

    def at(place: Vector) -> Vector:
        x, y, z = place
        return (x + shift[0], side * y + shift[1], z + shift[2])

    arms = tuple(an_arm(at((780.0 + 20 * n, -150.0, 690.0)), link=330.0, name=f"notch {n}") for n in (1, 2))
    limits = (
        torus_limit("wheel rim", at((330.0, -350.0, 600.0)), (1.0, 0.0, 0.45), 180.0, 16.0, 55.0),
        capsule_limit("thigh", at((700.0, -220.0, 330.0)), at((350.0, -220.0, 420.0)), 80.0, 55.0),
        plane_limit("backrest", at((850.0, 0.0, 0.0)), (-1.0, 0.0, 0.2), 55.0),
        plane_limit("armrest", at((0.0, 0.0, 330.0)), (0.0, 0.0, 1.0), 40.0),
    )
    return KnobQuestion(
        arms=arms,
        gears=GEARS,
        grips_mm=GATE * [1.0, side, 1.0],
        present_mm=at((230.0, -20.0, 350.0)),
        limits=limits,
    )


@pytest.fixture(scope="module")
def shell() -> KnobRegion:
    return finish(knob_region(asked(an_arm())))


@pytest.fixture(scope="module")
def car() -> KnobRegion:
    return finish(knob_region(a_car(), 16.0))


def every_place(region: KnobRegion) -> np.ndarray:
    return region.field.places(np.argwhere(np.ones(region.field.margin.shape, dtype=bool)))


def test_spans_are_where_the_elbow_is_as_bent_and_as_straight_as_wanted() -> None:
    """Against the arm's own elbow angle, which goes the other way round."""
    arm = ArmAt(
        name="", shoulder_mm=ORIGIN, upper_mm=310.0, lower_mm=340.0, elbow_least_deg=80, elbow_most_deg=155
    )
    assert elbow_deg(arm.shortest_mm, 310.0, 340.0) == pytest.approx(80.0)
    assert elbow_deg(arm.longest_mm, 310.0, 340.0) == pytest.approx(155.0)


def test_one_gear_is_the_shell_between_two_spans(shell: KnobRegion) -> None:
    """Links of 200 at 75 and 160 degrees: chords of 400 sin(37.5) and 400 sin(80)."""
    near, far = 400.0 * math.sin(math.radians(37.5)), 400.0 * math.sin(math.radians(80.0))
    span = np.linalg.norm(every_place(shell), axis=1)
    expected = np.maximum(np.minimum(far - span, span - near), -shell.field.deep_mm)
    np.testing.assert_allclose(shell.field.margin.ravel(), expected, atol=1e-9)
    assert shell.volume_litres == pytest.approx(4e-6 / 3 * math.pi * (far**3 - near**3), rel=2e-4)
    assert shell.roomiest.margin_mm == pytest.approx((far - near) / 2, abs=1.0)
    assert shell.roomiest.margin_mm <= (far - near) / 2 <= shell.roomiest.at_most_mm
    # The tip of a ball lies at most a voxel's diagonal beyond the box that is filled from face to face.
    assert shell.low_mm is not None
    assert shell.high_mm is not None
    assert np.abs([*shell.low_mm, *shell.high_mm]) == pytest.approx(far, abs=0.2)


def test_volumes_come_nearer_with_finer_voxels() -> None:
    near, far = 400.0 * math.sin(math.radians(37.5)), 400.0 * math.sin(math.radians(80.0))
    true = 4e-6 / 3 * math.pi * (far**3 - near**3)
    # Whole numbers of mm among them: a spacing may come as one.
    for spacing, within in ((64, 8e-3), (32, 2e-3), (16, 6e-4), (8, 1.5e-4)):
        volume = finish(knob_region(asked(an_arm()), spacing)).volume_litres
        assert volume == pytest.approx(true, rel=within), spacing


def test_a_shell_has_two_sides_by_area(shell: KnobRegion) -> None:
    """Areas go with the squares of the radii; labels stand on them."""
    near, far = 400.0 * math.sin(math.radians(37.5)), 400.0 * math.sin(math.radians(80.0))
    outer, inner = sides(shell)
    assert (outer.name, inner.name) == ("elbow too straight", "elbow too bent")
    assert outer.share == pytest.approx(far**2 / (far**2 + near**2), abs=0.01)
    assert outer.share + inner.share == pytest.approx(1.0)
    assert math.hypot(*outer.at_mm) == pytest.approx(far, abs=10.0)
    assert math.hypot(*inner.at_mm) == pytest.approx(near, abs=10.0)
    assert outer.cause == Cause(name="elbow too straight", gear="3", arm="d-1")


def test_a_label_stands_in_the_middle_of_a_flat_side() -> None:
    """A slab cut from a ball of 300: its discs are round about the Z axis."""
    lid, floor = (
        plane_limit("lid", (0, 0, 60), (0, 0, -1), 0),
        plane_limit("floor", (0, 0, -40), (0, 0, 1), 0),
    )
    ball = an_arm(least=0.0, most=180.0, link=150.0)
    told = {side.name: side for side in sides(finish(knob_region(asked(ball, limits=(lid, floor)))))}
    np.testing.assert_allclose(told["lid"].at_mm, [0, 0, 60], atol=10.0)
    np.testing.assert_allclose(told["floor"].at_mm, [0, 0, -40], atol=10.0)
    discs = [math.pi * (300.0**2 - height**2) for height in (60.0, 40.0)]
    # Archimedes: a zone of a ball has the area of the same height of its cylinder.
    whole = sum(discs) + math.tau * 300.0 * 100.0
    assert told["lid"].share == pytest.approx(discs[0] / whole, abs=0.02)
    assert told["arm length"].share == pytest.approx(math.tau * 300.0 * 100.0 / whole, abs=0.02)


def test_two_gears_leave_the_lens_of_two_balls() -> None:
    """Straight arms of 300, gears 120 apart: pi (4 R + d) (2 R - d)**2 / 12, by the height of two caps."""
    question = KnobQuestion(
        arms=(an_arm(least=0.0, most=180.0, link=150.0),),
        gears=("1", "2"),
        grips_mm=np.array([[-60.0, 0, 0], [60.0, 0, 0]]),
        present_mm=ORIGIN,
    )
    region = finish(knob_region(question))
    assert region.volume_litres == pytest.approx(math.pi * 1320.0 * 480.0**2 / 12e6, rel=1e-3)
    places = every_place(region)
    both = [300.0 - np.linalg.norm(places - [x, 0, 0], axis=1) for x in (-60.0, 60.0)]
    np.testing.assert_array_equal(region.field.margin.ravel() >= 0, np.minimum(*both) >= 0)
    # Forward of the shoulder the forward gear is the one that is far.
    assert region.margin_at((-200.0, 0.0, 0.0)).cause == Cause(name="arm length", gear="1", arm="d-1")


def test_an_arm_that_may_be_straight_is_limited_by_its_length() -> None:
    assert asked(an_arm(most=180.0)).margin_at((0, 0, 390)).cause.name == "arm length"
    assert asked(an_arm(most=180.0)).margin_at((0, 0, 390)).margin_mm == pytest.approx(10.0)
    assert asked(an_arm(most=179.0)).margin_at((0, 0, 390)).cause.name == "elbow too straight"


def test_a_rule_for_the_knob_at_rest_does_not_follow_it_into_gear() -> None:
    def height(neutral_only: bool) -> KnobLimit:
        return KnobLimit(
            name="beside rim", margin=lambda points: 300.0 - points[:, 2], neutral_only=neutral_only
        )

    up = np.array([[0.0, 0, 40.0]])
    judged = [
        KnobQuestion(
            arms=(an_arm(),), gears=("R",), grips_mm=up, present_mm=ORIGIN, limits=(height(only),)
        ).margin_at((0.0, 0.0, 290.0))
        for only in (True, False)
    ]
    assert [one.margin_mm for one in judged] == pytest.approx([10.0, -30.0])
    assert [one.cause.gear for one in judged] == ["neutral", "R"]


@pytest.mark.parametrize("spacing", [18.0, 23.0])
def test_what_is_skipped_makes_no_difference(spacing: float) -> None:
    """Every voxel judged by itself, a steep limit among them, and the cause it names leaves just that room."""
    ticks = np.arange(-300.0, 300.0, 25.0)
    dash = np.linalg.norm(np.stack(np.meshgrid(ticks, ticks, ticks, indexing="ij"), axis=-1), axis=-1) - 90.0
    plain = a_car()
    question = KnobQuestion(
        arms=plain.arms,
        gears=plain.gears,
        grips_mm=plain.grips_mm,
        present_mm=plain.present_mm,
        limits=(*plain.limits, field_limit("dash", (100.0, -300.0, 300.0), 25.0, dash, 55.0)),
    )
    region = finish(knob_region(question, spacing))
    places, field = every_place(region), region.field
    whole = question.margins(places)
    np.testing.assert_allclose(field.margin.ravel(), np.maximum(whole, -field.deep_mm), atol=1e-9)
    counted = field.cause.ravel() >= 0
    np.testing.assert_array_equal(counted, field.margin.ravel() > -field.deep_mm)
    each = np.array([term.margin(places) for term in question.terms])
    named = each[field.cause.ravel()[counted], np.flatnonzero(counted)]
    np.testing.assert_allclose(named, field.margin.ravel()[counted], atol=1e-9)
    assert "dash" in {side.name for side in sides(region)}


def test_nothing_of_the_region_lies_outside_its_field(car: KnobRegion) -> None:
    strewn = np.random.default_rng(8).uniform(-200.0, 1500.0, (60_000, 3))
    inside = strewn[car.question.margins(strewn) >= 0.0]
    low = car.field.origin_mm
    high = low + car.field.spacing_mm * (np.array(car.field.margin.shape) - 1)
    assert len(inside) > 50
    assert ((inside > low) & (inside < high)).all()
    edge = np.ones(car.field.margin.shape, dtype=bool)
    edge[1:-1, 1:-1, 1:-1] = False
    assert car.field.margin[edge].max() < 0.0


def test_between_voxels_the_room_is_as_bounded_as_promised(car: KnobRegion) -> None:
    draw = np.random.default_rng(9)
    at = np.argwhere(car.field.cause >= 0)
    off = draw.uniform(-0.5, 0.5, at.shape) * car.field.spacing_mm
    change = np.abs(car.question.margins(car.field.places(at) + off) - car.field.margin[tuple(at.T)])
    assert change.max() <= car.between_mm
    assert car.between_mm == pytest.approx(16.0 * math.sqrt(3.0) / 2.0)
    for axis in range(3):
        assert np.abs(np.diff(car.field.margin, axis=axis)).max() <= car.field.spacing_mm + 1e-9


@given(st.tuples(*[st.floats(-1500.0, 1500.0)] * 3), st.tuples(*[st.floats(-300.0, 300.0)] * 3))
def test_room_changes_by_no_more_than_the_knob_moves(place: Vector, step: Vector) -> None:
    ends = np.array([place, np.array(place) + step])
    assert abs(float(np.diff(a_car().margins(ends))[0])) <= math.hypot(*step) + 1e-9


def test_moving_everything_together_changes_nothing(car: KnobRegion) -> None:
    shift = (1234.5, -321.75, 77.25)
    moved = finish(knob_region(a_car(shift), 16.0))
    np.testing.assert_allclose(moved.field.origin_mm, car.field.origin_mm + shift)
    np.testing.assert_allclose(moved.field.margin, car.field.margin, atol=1e-9)
    one, two = nearest(car), nearest(moved)
    assert one is not None
    assert two is not None
    assert not one.inside
    assert one.move_mm == two.move_mm
    assert one.away_mm == pytest.approx(two.away_mm, abs=0.01)
    assert moved.volume_litres == pytest.approx(car.volume_litres)


def test_a_mirrored_car_has_the_mirrored_region(car: KnobRegion) -> None:
    other = finish(knob_region(a_car(side=-1.0), 16.0))
    np.testing.assert_allclose(other.field.margin, car.field.margin[:, ::-1, :], atol=1e-9)
    one, two = nearest(car), nearest(other)
    assert one is not None
    assert two is not None
    assert two.away_mm == pytest.approx(one.away_mm, abs=0.01)
    np.testing.assert_allclose(two.place_mm, np.array(one.place_mm) * [1, -1, 1], atol=1.0)
    assert {side.name: round(side.share, 6) for side in sides(other)} == {
        side.name: round(side.share, 6) for side in sides(car)
    }


def test_steps_never_fall_and_coarser_voxels_keep_a_field_small(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(knob_field, "MOST_VOXELS", 20_000)
    told: list[Step] = []
    region = finish(knob_region(asked(an_arm())), told.append)
    assert region.field.margin.size <= 20_000
    times = math.log(region.field.spacing_mm / 10.0, 1.25)
    assert times == pytest.approx(round(times))
    done = [step.done for step in told]
    assert done == sorted(done)
    assert 0.0 <= done[0] < done[-1] <= 1.0


@pytest.mark.parametrize(
    "refused",
    [
        lambda: an_arm(least=100.0, most=100.0),
        lambda: an_arm(most=181.0),
        lambda: an_arm(link=0.0),
        lambda: an_arm(shoulder=(math.nan, 0.0, 0.0)),
        lambda: asked(),
        lambda: asked(an_arm(), present=(math.inf, 0.0, 0.0)),
        lambda: KnobQuestion(arms=(an_arm(),), gears=("1", "2"), grips_mm=STAYS, present_mm=ORIGIN),
        lambda: finish(knob_region(asked(an_arm()), 0.1)),
        lambda: a_silent_limit(lambda points: np.full(len(points), np.nan)),
        lambda: a_silent_limit(lambda points: np.zeros(3)),
    ],
)
def test_what_is_no_question_is_refused(refused: object) -> None:
    assert callable(refused)
    with pytest.raises(BadValue):
        refused()


def a_silent_limit(margin: object) -> float:
    assert callable(margin)
    limit = KnobLimit(name="dash", margin=margin)
    return asked(an_arm(), limits=(limit,)).margin_at(ORIGIN).margin_mm
