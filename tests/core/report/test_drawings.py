"""Views from three sides and the section: the right way round, to scale, with tickets that never overlap."""

import dataclasses
import itertools

import pytest

from core.report.made_up import facts, finding, findings, layout, many
from floorpan.report.display import Drawing, Stroke, Words
from floorpan.report.drawings import section_station, shown_gaps, sides, station_section, three_views
from floorpan.report.facts import ReportFacts
from floorpan.report.lettering import width
from floorpan.report.palette import GROUND, colour
from floorpan.report.tickets import MOST

NOTHING = ReportFacts(date="", version="")


def words_of(drawing: Drawing) -> dict[str, Words]:
    return {mark.text: mark for mark in drawing.marks if isinstance(mark, Words)}


def tickets(drawing: Drawing) -> list[tuple[float, float, float, float]]:
    """Rounded boxes filled with paper: left, bottom, right, top."""
    found = []
    for mark in drawing.marks:
        curved = isinstance(mark, Stroke) and sum(kind == "C" for kind, _ in mark.path) == 4
        if isinstance(mark, Stroke) and curved and mark.fill == colour(GROUND) and mark.stroke:
            points = [point for _, points in mark.path for point in points]
            x, y = [p[0] for p in points], [p[1] for p in points]
            found.append((min(x), min(y), max(x), max(y)))
    return found


@pytest.mark.parametrize("side", ["left", "right"])
def test_no_view_is_a_mirror_image(side: str) -> None:
    """right x up points at who looks: from the driver's side, from above, from the rear."""
    looks_from = {"driver": (0, -1 if side == "left" else 1, 0), "above": (0, 0, 1), "rear": (1, 0, 0)}
    for one, *_ in sides(layout(driver_side=side)):
        (a, b, c), (d, e, f) = one.right, one.up
        assert (b * f - c * e, c * d - a * f, a * e - b * d) == looks_from[one.name]


def test_the_edges_are_named_for_where_the_driver_sits() -> None:
    assert [edges for _, *edges in sides(layout())] == [
        ["front", "rear"],
        ["front", "rear"],
        ["driver side", "passenger side"],
    ]
    assert [edges for _, *edges in sides(layout(driver_side="right"))] == [
        ["rear", "front"],
        ["front", "rear"],
        ["passenger side", "driver side"],
    ]


def test_numbers_along_the_edge_are_car_millimetres() -> None:
    """The knob's column in the side view: 100 mm of car between two numbers, at the scale the bar tells."""
    held = layout()
    for side in ("left", "right"):
        [(_, view), *_] = three_views(
            dataclasses.replace(held, driver_side=side), findings(), facts(held), 174.0
        )
        told = words_of(view)
        apart = told["1\u2009300"].at[0] - told["1\u2009200"].at[0]
        scale = float(next(text for text in told if text.startswith("bar")).rpartition(": ")[2])
        assert abs(apart) == pytest.approx(100.0 / scale)
        assert (apart > 0) == (side == "left")


@pytest.mark.parametrize("held", [findings(), many(60)], ids=["usual", "crowded"])
def test_tickets_do_not_overlap_and_stay_on_the_sheet(held: tuple[object, ...]) -> None:
    for _, view in three_views(layout(), held, facts(layout()), 174.0):  # type: ignore[arg-type]
        placed = tickets(view)
        assert 1 <= len(placed) <= MOST
        for a, b in itertools.combinations(placed, 2):
            assert a[0] >= b[2] or b[0] >= a[2] or a[1] >= b[3] or b[1] >= a[3]
        for left, bottom, right, top in placed:
            assert left >= 0
            assert bottom >= 0
            assert right <= view.width_mm
            assert top <= view.height_mm


def test_words_stay_inside_their_tickets_and_the_sheet() -> None:
    long_name = "W" * 60
    items = tuple(dataclasses.replace(item, name=long_name) for item in layout().items)
    held = layout(items=items)
    told = tuple(
        dataclasses.replace(one, met=long_name if one.met == "Bottle" else one.met) for one in findings()
    )
    for _, view in three_views(held, told, facts(held), 174.0):
        for mark in view.marks:
            if isinstance(mark, Words):
                wide = width(mark.text, mark.size_mm, bold=mark.bold)
                start = mark.at[0] - wide * {"start": 0.0, "middle": 0.5, "end": 1.0}[mark.anchor]
                assert start >= -0.01, mark
                assert start + wide <= view.width_mm + 0.01, mark


def test_a_view_tells_which_gaps_it_shows() -> None:
    [(_, view), *_] = three_views(layout(), findings(), facts(layout()), 174.0)
    assert "Knuckles \u2013 bottle" in view.says


def test_gaps_shown_are_the_worst_state_of_each_pair() -> None:
    told = shown_gaps(findings())
    assert len({(one.check, one.subjects) for one in told}) == len(told)
    assert told[0].verdict == "hits"
    assert dict(told[0].state)["shifter-1.gear"] == "R"
    assert not any(one.check == "reach" for one in told)


def test_the_section_is_cut_at_the_tight_spot() -> None:
    assert section_station(layout(), findings(), facts(layout())) == 787.0
    found = station_section(layout(), findings(), facts(layout()), 174.0)
    assert found is not None
    assert found[0] == "Station 787, looking forward"
    assert {"driver side", "passenger side"} <= set(words_of(found[1]))


def test_the_section_shows_only_gaps_near_it() -> None:
    far = finding(
        "hand-scan", ("driver-1.hand", "scan-1"), 3.0, at_mm=((200.0, 0.0, 300.0), (203.0, 0.0, 300.0))
    )
    found = station_section(layout(), (*findings(), far), facts(layout()), 174.0, station_mm=640.0)
    assert found is not None
    assert "Knuckles \u2013 scan" not in words_of(found[1])


def test_where_there_is_nothing_nothing_is_drawn() -> None:
    assert three_views(layout(), findings(), NOTHING, 174.0) == ()
    assert station_section(layout(), findings(), NOTHING, 174.0) is None
    assert section_station(layout(seats=(), items=(), consoles=()), (), NOTHING) is None


def test_without_findings_the_first_thing_is_cut() -> None:
    assert section_station(layout(), (), facts(layout())) == 1400.0


def test_a_scan_alone_is_drawn() -> None:
    held = layout(seats=(), items=(), consoles=(), people=())
    views = three_views(held, (), facts(held), 174.0)
    assert len(views) == 3
    assert station_section(held, (), facts(held), 174.0) is not None
