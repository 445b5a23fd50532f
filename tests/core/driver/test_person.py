"""A person's numbers: what is refused, and defaults against the open body-size data."""

import csv
import math
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from floorpan.driver.person import BELT_STOPS, Person, lean_deg_of
from floorpan.errors import BadValue
from floorpan.fields import rules


def columns(folder: Path, sex: str) -> dict[str, np.ndarray]:
    with (folder / "anthropometry" / "ansur2_reach_columns.csv").open(encoding="utf-8") as file:
        rows = [row for row in csv.DictReader(file) if row["sex"] == sex]
    return {name: np.array([float(row[name]) for row in rows]) for name in rows[0] if name != "sex"}


def straight_arm(found: dict[str, np.ndarray]) -> np.ndarray:
    return found["acromionradialelength"] + found["radialestylionlength"] + found["wristtogrip_derived"]


def test_the_straight_arm_of_men_and_women(shared_data: Path) -> None:
    """Check value 2.13 and the 2012 Anthropometric Survey of U.S. Army Personnel (NATICK/TR-15/007, open data)."""
    men, women = (straight_arm(columns(shared_data, sex)) for sex in ("M", "F"))
    assert (len(men), len(women)) == (4082, 1986)
    assert men.mean() == pytest.approx(665, abs=1)
    assert women.mean() == pytest.approx(611, abs=1)
    # British men 665 (sd 32), women 600: Pheasant, Bodyspace, as quoted by others.
    assert men.mean() == pytest.approx(665, abs=5)
    assert women.mean() == pytest.approx(600, abs=15)


def test_defaults_lie_at_the_middle_of_the_men(shared_data: Path) -> None:
    """Same data. Nobody is the middle of everything; the tape replaces these."""
    men, person = columns(shared_data, "M"), Person(id="d-1")
    assert person.shoulder_to_grip_mm == pytest.approx(float(np.median(straight_arm(men))), abs=2)
    assert person.upper_arm_mm == pytest.approx(float(np.median(men["acromionradialelength"])), abs=2)
    assert person.wrist_to_grip_mm == pytest.approx(float(np.median(men["wristtogrip_derived"])), abs=2)
    assert 2 * person.shoulder_out_mm == pytest.approx(float(np.median(men["biacromialbreadth"])), abs=2)
    over_seat = float(np.median(men["acromialheightsitting_derived"]))
    # The hip point lies about 95 mm over a loaded cushion. Common practice, no source.
    assert person.shoulder_mm == pytest.approx(over_seat - 95.0, abs=2)


def test_the_elbow_is_not_counted_twice(shared_data: Path) -> None:
    """Check value 2.13: lengths that both run round the elbow add up to 47 mm too much in men."""
    men = columns(shared_data, "M")
    doubled = men["shoulderelbowlength"] + men["forearmcenterofgriplength"]
    assert (doubled - straight_arm(men)).mean() == pytest.approx(47, abs=1)
    person = Person(id="d-1")
    assert person.upper_arm_mm + person.forearm_mm() == person.shoulder_to_grip_mm


@pytest.mark.parametrize(
    "fields",
    [
        {"shoulder_to_grip_mm": math.nan},
        {"tape_u_mm": -1.0},
        {"role": "pilot"},
        {"notches_used": (0,)},
        {"notches_used": ()},
        {"elbow_most_deg": 200.0},
        {"shoulder_to_grip_mm": 430.0, "upper_arm_mm": 335.0},
    ],
)
def test_numbers_that_are_no_person_are_refused(fields: dict[str, Any]) -> None:
    with pytest.raises(BadValue):
        Person(id="d-1", **fields)


def test_every_number_says_how_to_measure_it() -> None:
    for name, rule in rules(Person).items():
        assert rule.label, name
        assert rule.help, name


def test_a_glove_is_added_all_round() -> None:
    """Common practice, no source: 55 bare, 65 gloved."""
    assert Person(id="d-1").hand_radius_mm() == 55.0
    assert Person(id="d-1", glove_mm=10.0).hand_radius_mm() == 65.0


def test_belts_are_tight_or_loose() -> None:
    assert BELT_STOPS == ("tight", "loose")


def test_the_lean_is_the_arc_over_the_torso() -> None:
    assert lean_deg_of(math.pi * 500 / 6, 500.0) == pytest.approx(30.0)
