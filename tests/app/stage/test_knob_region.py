"""Where the knob should be, in the picture: its body, its sides by name, the place the knob goes to."""

from collections.abc import Iterator
from dataclasses import replace

import numpy as np
import pytest
from PySide6.QtGui import QImage, QPainter

from app.stage.bench import Bench
from app.stage.conftest import RAW, Open
from core.small_case import small_layout
from floorpan import edits
from floorpan.advice.knob_for_driver import KnobAdvice, where_the_knob_should_be
from floorpan.progress import finish
from floorpan.report.knob_told import told_sides
from floorpan_app.stage.knob_region import NAME
from floorpan_app.theme.record import THEME_NAMES, load_theme
from floorpan_app.viewport import word_painting
from floorpan_app.viewport.joint_painting import joint_rooms

pytestmark = pytest.mark.real_view


@pytest.fixture
def seen(open_bench: Open) -> Iterator[Bench]:
    """The small layout on the driver's step, its knob a little too far ahead."""
    bench = open_bench(edits.move(small_layout(RAW), "shifter-1", x_mm=40.0), {RAW.sha256: RAW})
    bench.desk.go_to("driver")
    bench.desk.knob.lay(advice_on(bench))
    yield bench
    bench.desk.knob.lay(None)
    bench.desk.knob.show(True)
    bench.view.set_theme(load_theme("light"))


def advice_on(bench: Bench) -> KnobAdvice:
    advice = finish(where_the_knob_should_be(bench.judging.bench.scene(bench.layout), 15.0))
    assert advice is not None
    return advice


def held(bench: Bench) -> KnobAdvice:
    advice = bench.desk.knob.advice
    assert advice is not None
    return advice


def said(bench: Bench) -> dict[str, str]:
    """Words in the picture and the role of each."""
    return {word.text: word.role for word in bench.marks.words}


def is_drawn(bench: Bench) -> bool:
    thing = bench.view.scene._things.get(NAME)
    return thing is not None and thing.shown


def test_the_body_is_as_large_as_the_region(seen: Bench) -> None:
    region = held(seen).region
    assert region.low_mm is not None
    points = seen.view.scene._things[NAME].outermost()
    # A tip may stick out by less than a voxel's diagonal, and corners between limits are taken off.
    slack = 1.8 * region.field.spacing_mm
    assert points.min(axis=0) == pytest.approx(region.low_mm, abs=slack)
    assert points.max(axis=0) == pytest.approx(region.high_mm, abs=slack)
    room = region.question.margins(points)
    assert np.abs(room).max() < 0.75 * region.field.spacing_mm


def test_it_is_seen_through_and_never_in_the_way_of_a_pick(seen: Bench) -> None:
    manner = seen.view.scene._things[NAME].manner
    assert manner.opacity < 0.5
    assert not manner.pickable
    assert manner.outlined


def test_each_side_is_named_where_it_lies_and_the_place_is_marked(seen: Bench) -> None:
    advice = held(seen)
    places = {word.text: word.at_mm for word in seen.marks.words}
    names = {"scan": "the rest of the scan"}
    for side in told_sides(advice):
        assert places[names.get(side.name, side.name)] == side.at_mm
    assert places["the knob goes here"] == pytest.approx(advice.place_mm)
    assert any(joint.at_mm == advice.place_mm for joint in seen.marks.joints)
    way = next(path for path in seen.marks.paths if path.stroke == "dashed" and path.role == "accent")
    assert way.points_mm == pytest.approx(np.array([advice.region.question.present_mm, advice.place_mm]))


def test_where_nobody_looked_says_so_and_looks_otherwise(seen: Bench) -> None:
    words = said(seen)
    assert words["not looked further"] == "unseen"
    assert words["elbow too straight"] == "ink2"


def test_the_chosen_side_stands_out(seen: Bench) -> None:
    seen.desk.knob.choose("elbow too straight")
    assert said(seen)["elbow too straight"] == "accent"
    assert said(seen)["thigh"] == "ink2"


def test_a_knob_that_is_well_placed_has_no_mark_to_go_to(seen: Bench) -> None:
    advice = held(seen)
    assert advice.move is not None
    inside = replace(advice.move, inside=True, move_mm=(0, 0, 0), place_mm=advice.region.question.present_mm)
    seen.desk.knob.lay(replace(advice, move=inside))
    assert "the knob goes here" not in said(seen)
    assert "elbow too straight" in said(seen)


def test_without_a_place_only_the_least_bad_is_marked(seen: Bench) -> None:
    layout = edits.change_person(
        seen.layout, "driver-1", notches_used=(1, 12), elbow_least_deg=118.0, elbow_most_deg=121.0
    )
    layout = edits.change(layout, "seat-1", notches=12, notch_mm=25.0)
    seen.desk.change("nobody can", lambda _: layout)
    advice = advice_on(seen)
    assert advice.region.empty
    seen.desk.knob.lay(advice)
    assert not is_drawn(seen)
    assert "least bad place" in said(seen)
    assert "elbow too straight" not in said(seen)


def test_it_is_hidden_with_reach_with_its_switch_and_on_other_steps(seen: Bench) -> None:
    assert is_drawn(seen)
    for hide, again in (
        (lambda: seen.stage.show("reach", False), lambda: seen.stage.show("reach", True)),
        (lambda: seen.desk.knob.show(False), lambda: seen.desk.knob.show(True)),
        (lambda: seen.desk.go_to("controls"), lambda: seen.desk.go_to("driver")),
        (lambda: seen.desk.knob.lay(None), lambda: seen.desk.knob.lay(advice_on(seen))),
    ):
        hide()
        assert not is_drawn(seen)
        assert "elbow too straight" not in said(seen)
        again()
        assert is_drawn(seen)
        assert "elbow too straight" in said(seen)


def test_the_reach_arcs_make_room_for_it_and_come_back(seen: Bench) -> None:
    assert not any("along the arm" in text for text in said(seen))
    assert len(seen.marks.joints) > 1, "the arm itself stays"
    seen.desk.knob.lay(None)
    assert any("along the arm" in text for text in said(seen))


def test_words_keep_off_each_other_in_fixed_and_free_views(seen: Bench) -> None:
    """Painted at once: no paper lies over another or over a joint."""
    seen.stage.show("gaps", False)
    boxes: list = []
    plain = word_painting.on_paper
    for view in ("passenger", "above", "rear", "free"):
        seen.view.camera.see_from(view)
        boxes.clear()
        with pytest.MonkeyPatch.context() as patch:
            patch.setattr(
                word_painting, "on_paper", lambda *args, **how: (boxes.append(args[1]), plain(*args, **how))
            )
            picture = QImage(seen.view.size(), QImage.Format.Format_ARGB32)
            painter = QPainter(picture)
            seen.view.overlay.paint(painter)
            painter.end()
        assert len(boxes) == len(seen.marks.words) >= 4
        taken = joint_rooms(seen.marks.joints, seen.view.projection())
        for number, box in enumerate(boxes):
            assert not any(box.intersects(other) for other in [*boxes[:number], *taken])


def test_words_lie_around_the_body_from_wherever_it_is_seen(seen: Bench) -> None:
    """From the middle outwards: each word is further from the middle, as it is seen, than its place is."""
    for heading in (-60.0, 20.0, 150.0):
        seen.look(held(seen).region.roomiest.place_mm, heading=heading, rise=-25.0)
        projection = seen.view.projection()
        middle = np.array(projection.pixel(held(seen).region.roomiest.place_mm))
        for word in seen.marks.words:
            if word.text in ("elbow too straight", "thigh", "not looked further"):
                at = np.array(projection.pixel(word.at_mm))
                out = at + np.array(word.away_px)
                assert np.linalg.norm(out - middle) > np.linalg.norm(at - middle) + 20.0


@pytest.mark.parametrize("theme", THEME_NAMES)
def test_the_body_tells_apart_from_what_is_behind_it(seen: Bench, theme: str) -> None:
    """On pixels, from the side: drawn with the body and without, its middle differs clearly."""
    for word in ("scan", "seats", "driver", "controls", "console", "gaps"):
        seen.stage.show(word, False)
    seen.view.set_theme(load_theme(theme))  # type: ignore[arg-type]
    place = held(seen).region.roomiest.place_mm
    seen.look(place, heading=90.0, rise=0.0, distance=1500.0)
    at = seen.at(place)

    def colour() -> np.ndarray:
        pixel = seen.canvas().grab().toImage().pixelColor(at)
        return np.array([pixel.red(), pixel.green(), pixel.blue()], dtype=float)

    with_it = colour()
    seen.desk.knob.show(False)
    assert np.abs(with_it - colour()).max() > 20.0
