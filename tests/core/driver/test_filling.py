"""How sure a person is whom nobody taped whole: against bodies drawn at random and against the survey's rows."""

import math

import numpy as np
import pytest

from floorpan.driver import LINKS, Person, filled
from floorpan.driver.bodies import draw
from floorpan.driver.body_figures import place_of
from floorpan.driver.filling import link_doubts
from floorpan.driver.known_sizes import BodySize
from floorpan.driver.reach import reach
from floorpan.driver.reach_doubts import spare_sd_mm

Rows = dict[str, np.ndarray]

REACHING = ("shoulder_to_grip_mm", "shoulder_height_mm", "acromion_breadth_mm")


@pytest.mark.parametrize("known", [{}, {"stature_mm": 1700.0}, {"stature_mm": 1820.0, "upper_arm_mm": 350.0}])
def test_the_doubts_of_links_not_taped_are_those_of_drawn_bodies(known: dict[str, float]) -> None:
    """Monte Carlo after JCGM 101, 200,000 men drawn with the same sizes known."""
    person = filled(
        Person(
            id="d",
            not_taped=tuple(link for link in LINKS if link not in known),
            upper_arm_mm=known.get("upper_arm_mm", 335.0),
            sizes=tuple(BodySize(measure=k, size=v) for k, v in known.items() if k not in LINKS),
        )
    )
    bodies = draw("man", 200_000, 3, known)[:, [place_of(key) for key in REACHING]] * [1.0, 1.0, 0.5]
    np.testing.assert_allclose(
        np.sqrt(np.diag(link_doubts(person).by_body)), bodies.std(axis=0), rtol=0.03, atol=0.05
    )
    np.testing.assert_allclose(
        np.corrcoef(bodies.T)[0, 1],
        link_doubts(person).by_body[0, 1]
        / math.sqrt(link_doubts(person).by_body[0, 0] * link_doubts(person).by_body[1, 1]),
        atol=0.03,
    )


def test_the_spare_of_a_body_nobody_taped_against_drawn_bodies() -> None:
    person = filled(Person(id="d", not_taped=LINKS, tape_u_mm=0.0))
    bodies = draw("man", 100_000, 5)
    grip = (-420.0, 330.0, 120.0)
    found = reach(person, (0.0, 0.0, 0.0), 24.0, "tight", "right", grip)
    lean = math.radians(24.0)
    tall = bodies[:, place_of("shoulder_height_mm")] - 95.0
    out = bodies[:, place_of("acromion_breadth_mm")] / 2
    shoulders = np.column_stack([tall * math.sin(lean), out, tall * math.cos(lean)])
    spare = bodies[:, place_of("shoulder_to_grip_mm")] - np.linalg.norm(shoulders - grip, axis=1)
    assert found.spare_u_mm == pytest.approx(2 * float(spare.std()), rel=0.03)
    assert found.spare_mm == pytest.approx(float(spare.mean()), abs=3.0)


def test_taped_whole_nothing_is_left_to_the_body() -> None:
    person = Person(id="d")
    away = np.array([400.0, -100.0, 250.0])
    tape, body = spare_sd_mm(person, away, np.array([0.0, 0.0, 1.0]), np.array([0.0, 1.0, 0.0]))
    assert body == 0.0
    assert tape == pytest.approx(math.sqrt(2.0) * person.tape_u_mm / 2)


def test_the_survey_s_own_people_lie_inside_the_give_or_take(survey: Rows) -> None:
    """Stature alone taped: 95 of 100 real men's straight arms within twice the standard deviation, give or take 2."""
    rows = survey["man"]
    held = 0
    for row in rows[::40]:
        person = filled(
            Person(
                id="d",
                not_taped=LINKS,
                sizes=(BodySize(measure="stature_mm", size=float(row[place_of("stature_mm")])),),
            )
        )
        sd = math.sqrt(link_doubts(person).by_body[0, 0])
        held += abs(person.shoulder_to_grip_mm - row[place_of("shoulder_to_grip_mm")]) <= 2 * sd
    assert held / len(rows[::40]) == pytest.approx(0.95, abs=0.05)
