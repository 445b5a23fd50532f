"""A population on a gate: the same as `reach` person by person, and the same as counting real people's rows."""

import csv
import dataclasses
import math
import sys
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from floorpan.driver.person import BELT_STOPS, Belts, Person, Side
from floorpan.driver.population import Bodies, Shares, mixed, reach_margins, shares
from floorpan.driver.reach import reach
from floorpan.errors import BadValue
from floorpan.frames import Pose, Vector

# A made-up seat and a gate of eight knob places beside it, reverse furthest out.
HIP: Vector = (900.0, -350.0, 200.0)
BACK_DEG = 24.0
GATE = np.array([(x, y, 430.0) for y in (-60.0, -20.0, 20.0, 60.0) for x in (550.0, 640.0)])
# Loose belts take nearly everybody there; this far on they tell people apart as well.
FAR_GATE = GATE - [70.0, 0.0, 0.0]
HIP_OVER_CUSHION_MM = 95.0


def people(number: int, seed: int) -> tuple[Person, ...]:
    draw = np.random.default_rng(seed)
    return tuple(
        Person(
            id="d-1",
            shoulder_to_grip_mm=draw.uniform(560.0, 780.0),
            upper_arm_mm=320.0,
            shoulder_mm=draw.uniform(320.0, 680.0),
            shoulder_out_mm=draw.uniform(130.0, 270.0),
            loose_forward_mm=draw.choice([0.0, 80.0, draw.uniform(0.0, 400.0)]),
            loose_turn_deg=draw.choice([0.0, 10.0, draw.uniform(0.0, 60.0)]),
        )
        for _ in range(number)
    )


@pytest.mark.parametrize("belts", BELT_STOPS)
@pytest.mark.parametrize(("side", "turn", "number"), [("right", 0.0, 200), ("left", -25.0, 40)])
def test_everybody_reaches_as_far_as_alone(belts: Belts, side: Side, turn: float, number: int) -> None:
    """200 people on 8 grips all about them, two of which some shoulders pass on their way."""
    everybody = people(number, seed=23)
    grips = np.random.default_rng(29).uniform([100.0, -800.0, 150.0], [1100.0, 100.0, 950.0], (8, 3))
    grips[:2] = [(1050.0, -150.0, 640.0), (900.0, -150.0, 690.0)]
    margins = reach_margins(Bodies.of_people(everybody), HIP, BACK_DEG, side, grips, belts, turn)
    for row, person in enumerate(everybody):
        for column, (x, y, z) in enumerate(grips.tolist()):
            alone = reach(person, HIP, BACK_DEG, belts, side, (x, y, z), turn).spare_mm
            assert margins[row, column] == pytest.approx(alone, abs=1e-9)


@given(
    st.tuples(st.floats(-900, 300), st.floats(-500, 500), st.floats(-200, 700)),
    st.floats(0, 45),
    st.floats(0, 400),
    st.floats(0, 60),
)
def test_tight_belts_never_reach_further_than_loose_and_loose_finds_the_nearest(
    grip: Vector, back: float, forward: float, turn: float
) -> None:
    """Check value 2.06: a belted envelope never exceeds the unbelted one; and loose is `reach`'s, however far the
    belts let go."""
    person = Person(id="d-1", loose_forward_mm=forward, loose_turn_deg=turn)
    bodies, grips = Bodies.of_people((person,)), np.array([grip])
    tight, loose = (
        float(reach_margins(bodies, (0.0, 0.0, 0.0), back, "right", grips, belts)[0, 0])
        for belts in BELT_STOPS
    )
    assert loose >= tight
    alone = reach(person, (0.0, 0.0, 0.0), back, "loose", "right", grip).spare_mm
    assert loose == pytest.approx(alone, abs=1e-9)


def two_ways(
    bodies: Bodies, grips: np.ndarray, belts: Belts, pose: Pose, turn: float
) -> tuple[np.ndarray, np.ndarray]:
    still = reach_margins(bodies, HIP, BACK_DEG, "right", grips, belts)
    x, y, z = pose.apply(np.array(HIP)).tolist()
    moved = reach_margins(bodies, (x, y, z), BACK_DEG, "right", pose.apply(grips), belts, turn)
    return still, moved


@pytest.mark.parametrize("belts", BELT_STOPS)
@given(
    shift=st.tuples(*[st.floats(-2000.0, 2000.0)] * 3), turn=st.floats(-180.0, 180.0), seed=st.integers(0, 99)
)
def test_moving_and_turning_car_and_drivers_together_changes_nothing(
    belts: Belts, shift: Vector, turn: float, seed: int
) -> None:
    pose = Pose(shift_mm=shift).after(Pose.turned((0.0, 0.0, 1.0), turn))
    still, moved = two_ways(Bodies.of_people(people(5, seed)), GATE, belts, pose, turn)
    np.testing.assert_allclose(moved, still, rtol=0, atol=1e-8)


@pytest.mark.parametrize("belts", BELT_STOPS)
@given(seed=st.integers(0, 99), turn=st.floats(-40, 40))
def test_a_mirrored_car_gives_the_mirrored_reach(belts: Belts, seed: int, turn: float) -> None:
    bodies = Bodies.of_people(people(5, seed))
    right = reach_margins(bodies, HIP, BACK_DEG, "right", GATE, belts, turn)
    mirrored_hip = (HIP[0], -HIP[1], HIP[2])
    left = reach_margins(bodies, mirrored_hip, BACK_DEG, "left", GATE * [1.0, -1.0, 1.0], belts, -turn)
    np.testing.assert_allclose(left, right, rtol=0, atol=1e-9)


def test_the_margin_is_the_cosine_rule_s() -> None:
    """In the plane of a shoulder without breadth: hip to shoulder 500, leaning 30 back, grip 400 level ahead of
    the hip: 120 degrees between them, so 500**2 + 400**2 + 500 * 400 under the root."""
    thin = 1e-9
    bodies = Bodies(
        shoulder_to_grip_mm=np.array([800.0]), shoulder_mm=np.array([500.0]), shoulder_out_mm=np.array([thin])
    )
    [[margin]] = reach_margins(bodies, (0, 0, 0), 30.0, "right", np.array([[-400.0, 0.0, 0.0]]), "tight")
    assert margin == pytest.approx(800.0 - math.sqrt(610_000.0), abs=1e-6)
    # Loose by the whole lean to upright and beyond: never nearer than the arc lets it be.
    loose = dataclasses.replace(bodies, loose_forward_mm=500.0 * math.radians(30.0), loose_turn_deg=0.0)
    [[margin]] = reach_margins(loose, (0, 0, 0), 30.0, "right", np.array([[-400.0, 0.0, 0.0]]), "loose")
    assert margin == pytest.approx(800.0 - math.hypot(500.0, 400.0), abs=1e-6)


def test_a_shoulder_that_passes_the_grip_stops_beside_it() -> None:
    """A grip on the shoulder's own arc, half the way that loose belts allow: nothing between them."""
    bodies = Bodies(
        shoulder_to_grip_mm=np.array([650.0]),
        shoulder_mm=np.array([500.0]),
        shoulder_out_mm=np.array([200.0]),
        loose_forward_mm=500.0 * math.radians(20.0),
        loose_turn_deg=0.0,
    )
    lean = math.radians(24.0 - 7.3)
    grip = np.array([[500.0 * math.sin(lean), 200.0, 500.0 * math.cos(lean)]])
    [[margin]] = reach_margins(bodies, (0, 0, 0), 24.0, "right", grip, "loose")
    assert margin == pytest.approx(650.0, abs=1e-6)


def test_shares_by_hand() -> None:
    """Of four bodies three reach the first, two the second, one both: sqrt(p (1 - p) / 4)."""
    margins = np.array([[1.0, 0.0], [1.0, -1.0], [0.5, -1.0], [-0.1, 2.0]])
    found = shares(margins)
    assert found.each == (0.75, 0.5)
    assert found.every == 0.25
    assert found.each_error == pytest.approx((math.sqrt(0.1875 / 4), 0.25))
    assert found.every_error == pytest.approx(math.sqrt(0.1875 / 4))


def test_a_body_that_counts_twice_is_two_bodies() -> None:
    margins = np.array([[1.0], [-1.0], [-2.0]])
    found, doubled = shares(margins, weights=np.array([2.0, 1.0, 0.0])), shares(margins[[0, 0, 1]])
    assert found.each == doubled.each == (pytest.approx(2 / 3),)
    # One body counted twice says less than two bodies: 5 / 9 of one over 3 bodies' worth.
    assert found.each_error[0] == pytest.approx(math.sqrt(4 * (1 / 3) ** 2 + (2 / 3) ** 2) / 3)
    assert found.each_error[0] > doubled.each_error[0]


def test_the_weighted_error_against_drawing_again_and_again() -> None:
    """Monte Carlo: 4000 surveys of 300 bodies with weights of their own, spread of the shares they tell."""
    draw = np.random.default_rng(31)
    margins = np.where(draw.random((4000, 300)) < 0.3, 1.0, -1.0)
    weights = draw.uniform(0.2, 3.0, (4000, 300))
    told = [shares(one[:, None], weights=weight) for one, weight in zip(margins, weights, strict=True)]
    spread = float(np.std([one.every for one in told]))
    assert float(np.mean([one.every_error for one in told])) == pytest.approx(spread, rel=0.04)


def test_a_mix_counts_each_sex_by_its_part() -> None:
    men = Shares(each=(0.9, 0.8), each_error=(0.03, 0.0), every=0.7, every_error=0.03)
    women = Shares(each=(0.5, 0.4), each_error=(0.04, 0.02), every=0.3, every_error=0.04)
    mix = mixed(men, women, 0.5)
    assert mix.each == pytest.approx((0.7, 0.6))
    assert mix.every == pytest.approx(0.5)
    assert mix.every_error == pytest.approx(0.025)
    assert mix.each_error == pytest.approx((0.025, 0.01))
    assert mixed(men, women, 1.0) == men
    assert mixed(men, women, 0.0) == women


def columns(folder: Path, sex: str) -> dict[str, np.ndarray]:
    with (folder / "anthropometry" / "ansur2_reach_columns.csv").open(encoding="utf-8") as file:
        rows = [row for row in csv.DictReader(file) if row["sex"] == sex]
    return {name: np.array([float(row[name]) for row in rows]) for name in rows[0] if name != "sex"}


def sizes(folder: Path, sex: str) -> np.ndarray:
    """Straight arm, hip to shoulder and half the shoulder points' breadth (N, 3) of every real person."""
    found = columns(folder, sex)
    arms = found["acromionradialelength"] + found["radialestylionlength"] + found["wristtogrip_derived"]
    torsos = found["acromialheightsitting_derived"] - HIP_OVER_CUSHION_MM
    return np.column_stack([arms, torsos, found["biacromialbreadth"] / 2.0])


def bodies_of(rows: np.ndarray) -> Bodies:
    arms, torsos, breadths = rows.T
    return Bodies(shoulder_to_grip_mm=arms, shoulder_mm=torsos, shoulder_out_mm=breadths)


@pytest.mark.parametrize("sex", ["M", "F"])
def test_shares_against_counting_real_people(shared_data: Path, sex: str) -> None:
    """The 2012 Anthropometric Survey of U.S. Army Personnel (NATICK/TR-15/007, open data), row by row in plain
    numbers: tight belts by Pythagoras, loose ones over two thousand places on the way."""
    rows = sizes(shared_data, sex)
    lean, hits = math.radians(BACK_DEG), []
    for arm_mm, torso_mm, out_mm in rows.tolist():
        shoulder = (HIP[0] + torso_mm * math.sin(lean), HIP[1] + out_mm, HIP[2] + torso_mm * math.cos(lean))
        hits.append([math.dist(shoulder, grip) <= arm_mm for grip in GATE.tolist()])
    found = shares(reach_margins(bodies_of(rows), HIP, BACK_DEG, "right", GATE, "tight"))
    assert found.each == pytest.approx(np.mean(hits, axis=0).tolist())
    assert found.every == pytest.approx(sum(map(all, hits)) / len(hits))
    # The gate is one that tells people apart.
    assert 0.05 < found.every < 0.95


def loose_hits(rows: np.ndarray, places: int = 401) -> np.ndarray:
    reached = np.zeros((len(rows), len(FAR_GATE)), dtype=bool)
    for share in np.linspace(0.0, 1.0, places):
        lean, turn = math.radians(BACK_DEG) - share * 80.0 / rows[:, 1], share * math.radians(10.0)
        ahead = rows[:, 2] * math.sin(turn)
        shoulders = np.column_stack(
            [
                HIP[0] + rows[:, 1] * np.sin(lean) - ahead * np.cos(lean),
                HIP[1] + rows[:, 2] * math.cos(turn),
                HIP[2] + rows[:, 1] * np.cos(lean) + ahead * np.sin(lean),
            ]
        )
        reached |= np.linalg.norm(shoulders[:, None] - FAR_GATE, axis=2) <= rows[:, :1]
    return reached


@pytest.mark.parametrize("sex", ["M", "F"])
def test_loose_shares_against_counting_real_people(shared_data: Path, sex: str) -> None:
    """The same rows with shoulders tried at 401 places of the loose way: nobody but a hair's breadth away differs."""
    rows = sizes(shared_data, sex)
    margins = reach_margins(bodies_of(rows), HIP, BACK_DEG, "right", FAR_GATE, "loose")
    counted = loose_hits(rows)
    assert (margins[(margins >= 0.0) != counted] < 0.01).all()
    assert np.mean((margins >= 0.0) != counted) < 1e-3
    assert shares(margins).every == pytest.approx(counted.all(axis=1).mean(), abs=1e-3)


@pytest.mark.parametrize("belts", BELT_STOPS)
@pytest.mark.parametrize("sex", ["M", "F"])
def test_bodies_drawn_from_few_figures_share_as_real_people_do(
    shared_data: Path, sex: str, belts: Belts
) -> None:
    """20,000 bodies drawn about the survey's means and covariances of three measures: within 3 points."""
    rows = sizes(shared_data, sex)
    drawn = np.random.default_rng(37).multivariate_normal(rows.mean(axis=0), np.cov(rows.T), 20_000)
    gate = GATE if belts == "tight" else FAR_GATE
    real, likely = (
        shares(reach_margins(bodies_of(held), HIP, BACK_DEG, "right", gate, belts)) for held in (rows, drawn)
    )
    told = (
        f"counted {real.every:.3f} with a standard error of {real.every_error:.3f},"
        f" drawn {likely.every:.3f} with {likely.every_error:.3f}"
    )
    sys.stdout.write(told)
    assert 0.05 < real.every < 0.98
    np.testing.assert_allclose(
        [*likely.each, likely.every], [*real.each, real.every], atol=0.03, err_msg=told
    )


@pytest.mark.parametrize("sex", ["M", "F"])
def test_percentiles_added_up_are_not_a_percentile(shared_data: Path, sex: str) -> None:
    """Check value 2.11's trap on this gate: a person of three 5th percentiles (the tall torso's 95th, for it takes
    the shoulder away) reaches far less than the one in twenty of real people who reaches least."""
    rows = sizes(shared_data, sex)
    least, most = np.percentile(rows, 5, axis=0), np.percentile(rows, 95, axis=0)
    added = np.array([[least[0], most[1], least[2]]])
    far = reach_margins(bodies_of(rows), HIP, BACK_DEG, "right", GATE, "tight").min(axis=1)
    built = reach_margins(bodies_of(added), HIP, BACK_DEG, "right", GATE, "tight").min()
    assert np.mean(far < built) < 0.03
    assert np.percentile(far, 5) > built + 5.0


@pytest.mark.parametrize(
    "fields",
    [
        {"shoulder_mm": np.array([500.0, 510.0])},
        {"shoulder_mm": np.array([math.nan])},
        {"shoulder_out_mm": np.array([0.0])},
        {"loose_turn_deg": -1.0},
        {"loose_forward_mm": np.array([80.0, 80.0])},
        {
            "shoulder_to_grip_mm": np.zeros((0,)),
            "shoulder_mm": np.zeros((0,)),
            "shoulder_out_mm": np.zeros((0,)),
        },
    ],
)
def test_bodies_that_do_not_match_are_refused(fields: dict[str, object]) -> None:
    one = {
        "shoulder_to_grip_mm": np.array([665.0]),
        "shoulder_mm": np.array([508.0]),
        "shoulder_out_mm": np.array([207.5]),
    }
    with pytest.raises(BadValue):
        Bodies(**(one | fields))  # type: ignore[arg-type]


@pytest.mark.parametrize("grips", [np.zeros(3), np.zeros((2, 2)), np.full((1, 3), np.inf)])
def test_grips_that_are_no_places_are_refused(grips: np.ndarray) -> None:
    with pytest.raises(BadValue):
        reach_margins(Bodies.of_people(people(2, 0)), HIP, BACK_DEG, "right", grips, "tight")


@pytest.mark.parametrize(
    ("margins", "weights"),
    [
        (np.zeros((0, 2)), None),
        (np.zeros((2, 0)), None),
        (np.full((2, 1), np.nan), None),
        (np.zeros((2, 1)), np.ones(3)),
        (np.zeros((2, 1)), np.array([1.0, -1.0])),
        (np.zeros((2, 1)), np.zeros(2)),
        (np.zeros((2, 1)), np.array([1.0, np.inf])),
    ],
)
def test_counts_of_nobody_are_refused(margins: np.ndarray, weights: np.ndarray | None) -> None:
    with pytest.raises(BadValue):
        shares(margins, weights=weights)


def test_a_mix_that_cannot_be_is_refused() -> None:
    one = Shares(each=(0.9,), each_error=(0.03,), every=0.7, every_error=0.03)
    two = Shares(each=(0.9, 0.1), each_error=(0.03, 0.0), every=0.7, every_error=0.03)
    for men, women, part in ((one, one, 1.1), (one, one, math.nan), (one, two, 0.5)):
        with pytest.raises(BadValue):
            mixed(men, women, part)
