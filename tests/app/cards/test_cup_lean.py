"""The lean that is drawn: the two outlines touch and do not cross, at the tilt of the exact relation."""

import math
from dataclasses import replace

import pytest
from shapely.geometry import Point, Polygon

from floorpan.items import CupHolder, Place, Vessel, vessel_of
from floorpan_app.cards.cup_lean import lean_drawn
from floorpan_app.cards.cup_lean_picture import shown_tilt_deg, stacked

# Published with the relation W cos a - (D - d sin a) sin a = d: (well, vessel, depth, tilt).
TILTS = [(70.0, 66.09, 70.0, 3.286), (76.0, 66.09, 70.0, 8.662), (80.0, 66.09, 70.0, 12.459)]


def straight(across_mm: float) -> Vessel:
    return Vessel(id="v", profile=((0.0, across_mm / 2), (122.0, across_mm / 2)))


def material(holder: CupHolder, right: int) -> Polygon:
    """Everything outside one wall below the mouth, and everything under the bottom."""
    base, mouth, deep = holder.base_mm / 2, holder.mouth_mm / 2, holder.depth_mm
    corners = [(0.0, 0.0), (base, 0.0), (mouth, deep), (300.0, deep), (300.0, -50.0), (0.0, -50.0)]
    return Polygon([(right * x, z) for x, z in corners])


@pytest.mark.parametrize(("well", "across", "depth", "tilt"), TILTS)
def test_it_leans_by_the_published_tilt_and_the_relation_holds(
    well: float, across: float, depth: float, tilt: float
) -> None:
    holder = CupHolder(id="h", mouth_mm=well, base_mm=well, depth_mm=depth)
    drawn = lean_drawn(holder, straight(across))
    assert shown_tilt_deg(drawn) == pytest.approx(tilt, abs=1e-3)
    a = math.radians(shown_tilt_deg(drawn))
    assert well * math.cos(a) - (depth - across * math.sin(a)) * math.sin(a) == pytest.approx(
        across, abs=1e-6
    )


@pytest.mark.parametrize("key", ["can-355", "bottle-500", "open-cup-12", "travel-mug"])
@pytest.mark.parametrize(("mouth", "base"), [(80.0, 80.0), (84.0, 76.0)])
def test_it_touches_bottom_wall_and_rim_and_goes_into_none(key: str, mouth: float, base: float) -> None:
    """Overlap and distances by an open geometry library."""
    holder = CupHolder(id="h", mouth_mm=mouth, base_mm=base, depth_mm=75.0)
    drawn = lean_drawn(holder, vessel_of(key, "v"))
    leaning = Polygon(drawn.leaning)
    for side in (1, -1):
        stuff = material(holder, side)
        assert leaning.intersection(stuff).area < 1e-3
        assert leaning.distance(stuff) < 1e-3, "it is stopped on both sides"
    assert min(z for _, z in drawn.leaning) == pytest.approx(0.0, abs=1e-9)
    assert leaning.distance(Point(mouth / 2, 75.0)) < 1e-3, "the rim stops it"
    assert Polygon(drawn.upright).intersection(material(holder, 1)).area < 1e-6


def test_the_room_is_the_difference_of_the_diameters_everywhere() -> None:
    holder = CupHolder(id="h", mouth_mm=70.0, base_mm=70.0, depth_mm=75.0)
    drawn = lean_drawn(holder, straight(66.0))
    assert [room.across_mm for room in drawn.rooms] == pytest.approx([4.0] * len(drawn.rooms))
    assert drawn.rooms[0].height_mm == pytest.approx(0.0, abs=1e-3)
    assert drawn.rooms[-1].height_mm == pytest.approx(75.0, abs=1e-3)


def test_where_it_stands_in_the_car_changes_nothing_and_costs_nothing() -> None:
    holder, vessel = CupHolder(id="h"), vessel_of("can-355", "v")
    moved = replace(holder, id="other", place=Place(x_mm=300.0, turn_deg=20.0))
    assert lean_drawn(moved, vessel) is lean_drawn(holder, vessel)


def test_what_hangs_by_its_taper_or_has_nothing_to_stop_it_is_not_drawn_leaning() -> None:
    snug = lean_drawn(CupHolder(id="h"), vessel_of("cold-cup-32", "v"))
    assert snug.fit.sits_mm < 70.0
    assert snug.leaning == ()
    assert min(z for _, z in snug.upright) == pytest.approx(70.0 - snug.fit.sits_mm)
    loose = lean_drawn(CupHolder(id="h", mouth_mm=160.0, base_mm=160.0, depth_mm=10.0), straight(30.0))
    assert loose.fit.free_tilt_deg == 90.0
    assert loose.leaning == ()


def test_lines_of_text_keep_clear_of_each_other() -> None:
    assert stacked([80.0, 78.0, 20.0], 15.0, 100.0) == [80.0, 65.0, 20.0]
    assert stacked([99.0], 15.0, 100.0) == [85.0]
    assert stacked([80.0, 31.0, 20.0], 15.0, 100.0, 30.0) == [80.0, 45.0, 30.0], "below what stands above"
