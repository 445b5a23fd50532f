"""The sketches of how bodies are taped: whatever is marked is as long as the mean man of the survey is there.

The sizes are the survey's (Gordon et al. 2014, 4082 men), the sketches ours: a sketch that points at a wrong place
comes out too long or too short.
"""

import math

import pytest
import shapely
from shapely.geometry import LineString, Point, Polygon, box

from floorpan.driver.body_figures import figures, measures, place_of
from floorpan.driver.figure_driving import LOOSE_MM
from floorpan.driver.filling import HIP_OVER_CUSHION_MM
from floorpan.driver.measuring import SKETCHED, TAPED_POINTS, WIDE_OVER_HIGH, sketch
from floorpan.driver.person import LINKS, Person
from floorpan.driver.sketch import Angle, Dimension, Loop, Sketch
from floorpan.errors import BadValue

MEASURED = tuple(one.key for one in measures())
WORN = ("glove_mm", "jacket_mm", "helmet_mm", "shoe_mm")
ANGLES = ("loose_turn_deg", "lean_off_deg", "elbow_least_deg", "elbow_most_deg")
LENGTHS = tuple(key for key in SKETCHED if isinstance(sketch(key).mark, Dimension))
every = pytest.mark.parametrize("key", SKETCHED)

WITHIN = 0.03
ON_FIGURE_MM = 6.0


def mean(key: str) -> float:
    return float(figures("man").mean[place_of(key)])


def everything(held: Sketch) -> shapely.Geometry:
    """What is to be seen: solids and lines."""
    solids = [Polygon(ring) for solid in held.solids for ring in solid.rings]
    return shapely.union_all([*solids, *(LineString(path) for path in held.lines)])


def test_every_measure_every_link_every_taped_point_and_what_is_worn_has_a_sketch() -> None:
    wanted = {*MEASURED, *LINKS, *TAPED_POINTS, *WORN, *ANGLES, "elbow_over_cushion_mm", "loose_forward_mm"}
    assert set(SKETCHED) == wanted
    assert len(set(SKETCHED)) == len(SKETCHED)


@pytest.mark.parametrize("key", MEASURED)
def test_what_is_marked_is_as_long_as_the_survey_says(key: str) -> None:
    mark = sketch(key).mark
    if key == "weight_kg":
        assert mark is None
    elif key == "hand_round_mm":
        assert isinstance(mark, Loop)
        assert mark.path[0] == pytest.approx(mark.path[-1])
    else:
        assert isinstance(mark, Dimension)
        assert mark.length_mm() == pytest.approx(mean(key), rel=WITHIN)


def test_links_and_what_is_worn_are_as_long_as_a_person_has_them() -> None:
    lengths = {key: sketch(key).mark for key in LENGTHS}
    drawn = {key: mark.length_mm() for key, mark in lengths.items() if isinstance(mark, Dimension)}
    assert drawn["shoulder_mm"] == pytest.approx(mean("shoulder_height_mm") - HIP_OVER_CUSHION_MM, rel=WITHIN)
    assert drawn["shoulder_out_mm"] == pytest.approx(mean("acromion_breadth_mm") / 2.0, rel=WITHIN)
    assert drawn["loose_forward_mm"] == pytest.approx(LOOSE_MM, rel=WITHIN)
    assert drawn["shoe_mm"] == pytest.approx(Person(id="person-1").shoe_mm, rel=WITHIN)
    for key in WORN:
        assert 5.0 <= drawn[key] <= 60.0
    # Sitting back in a soft seat brings the elbow nearer the cushion than sitting upright on a bench.
    assert 0.4 * mean("elbow_rest_mm") < drawn["elbow_over_cushion_mm"] < mean("elbow_rest_mm")


def test_angles_are_drawn_as_what_they_mean() -> None:
    drawn = {key: sketch(key).mark for key in ANGLES}
    degrees = {key: mark.degrees() for key, mark in drawn.items() if isinstance(mark, Angle)}
    assert degrees["loose_turn_deg"] == pytest.approx(Person(id="person-1").loose_turn_deg, abs=0.1)
    assert degrees["lean_off_deg"] == pytest.approx(10.0, abs=0.1)
    least, most = Person(id="person-1").elbow_least_deg, Person(id="person-1").elbow_most_deg
    assert least < degrees["elbow_least_deg"] == degrees["elbow_most_deg"] < most


@every
def test_landmarks_lie_on_the_figure_or_on_what_it_sits_on(key: str) -> None:
    held = sketch(key)
    seen = everything(held)
    for dot in held.dots:
        assert seen.distance(Point(dot)) <= ON_FIGURE_MM


@every
def test_the_ends_of_what_is_marked_are_its_landmarks(key: str) -> None:
    held = sketch(key)
    if isinstance(held.mark, Dimension):
        assert held.dots == (held.mark.one, held.mark.other)
        one, other = held.mark.ends()
        # The drawn line is square to what joins it to its landmarks.
        run = (other[0] - one[0], other[1] - one[1])
        for end, dot in zip((one, other), held.dots, strict=True):
            join = (end[0] - dot[0], end[1] - dot[1])
            assert math.hypot(*join) < 1e-9 or abs(run[0] * join[0] + run[1] * join[1]) < 1e-6 * math.hypot(
                *run
            )
    else:
        # The line of the seat has no landmark on the figure.
        fewer = {"weight_kg": 0, "hand_round_mm": 2, "lean_off_deg": 2}
        assert len(held.dots) == fewer.get(key, 1 if key in TAPED_POINTS else 3)


@every
def test_everything_lies_on_its_sheet(key: str) -> None:
    held = sketch(key)
    sheet = box(*held.least, *held.greatest)
    wide, high = (b - a for a, b in zip(held.least, held.greatest, strict=True))
    assert wide / high == pytest.approx(WIDE_OVER_HIGH)
    assert sheet.buffer(0.2).covers(everything(held))
    marked = [*held.dots, *(held.mark.ends() if isinstance(held.mark, Dimension) else ())]
    inner = sheet.buffer(-0.02 * high)
    assert all(inner.covers(Point(point)) for point in marked)
    assert all(sheet.buffer(0.2).covers(LineString(edge)) for solid in held.solids for edge in solid.edges)


@every
def test_what_is_cut_off_by_the_sheet_has_no_edge_there(key: str) -> None:
    held = sketch(key)
    rim = box(*held.least, *held.greatest).boundary
    for solid in held.solids:
        for edge in solid.edges:
            assert LineString(edge).intersection(rim).length < 2.0


@every
def test_it_is_told_how(key: str) -> None:
    held = sketch(key)
    assert held.label
    assert held.how.endswith(".")
    assert 40 <= len(held.how) <= 175
    assert held.says.endswith(".")
    assert "  " not in held.how + held.says
    assert held.says != held.how


def test_no_two_are_told_alike() -> None:
    told = [sketch(key).how for key in SKETCHED]
    assert len(set(told)) == len(told)


def test_the_mean_man_adds_up_on_the_sheet() -> None:
    """Elbow rest and shoulder to elbow make the shoulder height, as they do on a body, within their postures."""
    parts = mean("elbow_rest_mm") + mean("shoulder_to_elbow_mm")
    assert parts == pytest.approx(mean("shoulder_height_mm"), rel=0.02)
    mark = sketch("shoulder_to_elbow_mm").mark
    assert isinstance(mark, Dimension)
    assert mark.length_mm() == pytest.approx(parts - mean("elbow_rest_mm"), rel=WITHIN)


def test_a_key_without_a_sketch_says_which_have_one() -> None:
    with pytest.raises(BadValue, match="nose_mm") as caught:
        sketch("nose_mm")
    assert "upper_arm_mm" in caught.value.remedy
