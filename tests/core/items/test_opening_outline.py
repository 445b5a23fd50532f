"""The outline of the opening against dense looks, closed forms and the rectangle; the boot in closed form."""

import dataclasses
import math

import numpy as np
import pytest
import shapely

from floorpan import edits
from floorpan.advice.lever_sums import opening_need
from floorpan.checks import evaluate
from floorpan.derive import Bench
from floorpan.errors import BadValue
from floorpan.items import Place, Shifter, gate_table
from floorpan.items.boot import boot_at, boot_cone, boot_table, room_for_ring_mm
from floorpan.items.opening_outline import opening_outline
from floorpan.items.shifter import KIND
from floorpan.items.shifter_gate import pivot_pose
from floorpan.layout import Layout
from floorpan.progress import finish

PLAIN = Shifter(id="shifter-1")
BOOTED = Shifter(id="shifter-1", ring_radius_mm=55.0, boot_cloth_mm=110.0, ring_lift_mm=18.0)


@pytest.mark.parametrize(
    "shifter",
    [
        PLAIN,
        dataclasses.replace(PLAIN, gears=6, reverse="front left", reverse_extra_deg=4.0, rock_mm=6.0),
        dataclasses.replace(PLAIN, bend_deg=25.0, bend_mm=40.0, bend_turn_deg=120.0, side_lean_deg=-6.0),
        dataclasses.replace(PLAIN, offset_mm=40.0, pivot_back_mm=12.0, pivot_right_mm=-7.0),
        dataclasses.replace(PLAIN, gate="straight", places="P R N D 2 1"),
    ],
)
@pytest.mark.parametrize("height", [60.0, 130.0])
def test_every_cut_on_every_way_keeps_margin_and_rock_inside_the_outline(
    shifter: Shifter, height: float
) -> None:
    """Second way: lines along the rod's skin, met with the level, at 61 looks on each leg; no ellipse is used."""
    margin = 8.0
    outline = opening_outline(shifter, height, margin)
    edge = shapely.Polygon(outline.points_mm)
    least = math.inf
    around = np.linspace(0.0, 2 * np.pi, 48, endpoint=False)
    shapely.prepare(edge)
    for a, b in KIND.axes(shifter)[0].legs:
        for share in np.linspace(0.0, 1.0, 61):
            # The lever from its pivot up: as if the boot covered nothing.
            bare = dataclasses.replace(shifter, boot_mm=0.0)
            for solid in KIND.envelope_between(bare, "lever", {}, "gear", a, b, float(share)):
                low, top = solid.points()
                along = (top - low) / np.linalg.norm(top - low)
                if not low[2] - 1e-9 <= height <= top[2] + 1e-9:
                    continue
                one = np.cross(along, [0.0, 1.0, 0.0])
                one /= np.linalg.norm(one)
                other = np.cross(along, one)
                rim = low + shifter.lever_radius_mm * (
                    np.cos(around)[:, None] * one + np.sin(around)[:, None] * other
                )
                cut = rim + ((height - rim[:, 2]) / along[2])[:, None] * along
                inside = shapely.contains_xy(edge, cut[:, 0], cut[:, 1])
                assert inside.all()
                least = min(least, float(shapely.distance(edge.exterior, shapely.points(cut[:, :2])).min()))
    wanted = margin + shifter.rock_mm
    assert wanted - 1e-9 <= least <= wanted + outline.outside_mm + 0.05
    assert outline.outside_mm < 0.2


@pytest.mark.parametrize("height", [70.0, 110.0, 160.0])
def test_its_sides_are_those_of_the_rectangle_the_lever_needs(height: float) -> None:
    for shifter in (PLAIN, dataclasses.replace(PLAIN, rock_mm=5.0, pivot_back_mm=9.0)):
        need, outline = opening_need(shifter, height, margin_mm=8.0), opening_outline(shifter, height, 8.0)
        assert outline.length_mm == pytest.approx(need.length_mm, abs=2 * outline.outside_mm + 1e-6)
        assert outline.width_mm == pytest.approx(need.width_mm, abs=2 * outline.outside_mm + 1e-6)
        middle = (outline.points_mm.min(axis=0) + outline.points_mm.max(axis=0)) / 2
        np.testing.assert_allclose(middle, [need.back_mm, need.right_mm], atol=0.2)
        # The corners that no gear goes to are not cut.
        assert shapely.Polygon(outline.points_mm).area < 0.95 * need.length_mm * need.width_mm


def test_an_upright_lever_of_a_straight_gate_in_closed_form() -> None:
    """R, N and D, 6 deg a step, h over the pivot: h tan 6 each way, r / cos 6 further, then the margin."""
    shifter = dataclasses.replace(PLAIN, gate="straight", places="R N D", lean_deg=0.0)
    outline = opening_outline(shifter, 110.0, 8.0)
    lean = math.radians(6.0)
    assert outline.length_mm == pytest.approx(2 * (65 * math.tan(lean) + 6.5 / math.cos(lean) + 8.0), abs=0.1)
    assert outline.width_mm == pytest.approx(2 * (6.5 + 8.0), abs=0.1)


def test_a_lever_that_lies_flat_has_no_outline() -> None:
    with pytest.raises(BadValue, match="flat"):
        opening_outline(dataclasses.replace(PLAIN, lean_deg=60.0, throw_deg=35.0), 110.0, 8.0)


def test_what_the_boot_needs_in_closed_form() -> None:
    """Collar 90 along the lever from the pivot at 45, ring of 55 at 110 over the foot."""
    for place in gate_table(BOOTED):
        pivot = np.array(pivot_pose(BOOTED).shift_mm)
        collar = pivot + 90.0 / 240.0 * (np.array(place.knob_mm) - pivot)
        around = np.linspace(0.0, 2 * np.pi, 36001)
        ring = np.column_stack([55.0 * np.cos(around), 55.0 * np.sin(around), np.full(36001, 110.0)])
        farthest = float(np.linalg.norm(ring - collar, axis=1).max())
        boot = boot_at(BOOTED, place.gear)
        np.testing.assert_allclose(boot.collar_mm, collar, atol=1e-9)
        assert boot.needs_mm == pytest.approx(farthest, abs=1e-4)
        assert boot.slack == pytest.approx(100.0 * (110.0 / farthest - 1.0), abs=1e-3)
        (cone,) = boot_cone(BOOTED, place.gear)
        points = cone.points()
        assert np.linalg.norm(points[:48, :2], axis=1).min() >= 55.0
        np.testing.assert_allclose(points[48:].mean(axis=0), collar, atol=1e-9)
    assert boot_table(PLAIN) == ()
    # Lever 240, ball of 24, boot to 90, ring up 18.
    assert room_for_ring_mm(BOOTED) == pytest.approx(240.0 - 24.0 - 90.0 - 18.0)
    pear = dataclasses.replace(BOOTED, knob="pear", knob_length_mm=80.0)
    assert room_for_ring_mm(pear) == pytest.approx(240.0 - 56.0 - 90.0 - 18.0)


def test_the_boot_is_judged_in_every_gear_where_it_was_measured() -> None:
    """20 in a hundred over the straight way in the furthest gear: common practice, no source."""
    layout, id = edits.add(Layout(), dataclasses.replace(BOOTED, place=Place(x_mm=300.0)))

    def found(layout: Layout) -> dict[str, str]:
        return {
            dict(one.state)[f"{id}.gear"]: one.verdict
            for one in finish(evaluate(layout, Bench({})))
            if one.check == "boot-slack"
        }

    assert set(found(layout)) == {"N", "1", "2", "3", "4", "5", "R"}
    assert set(found(edits.change(layout, id, boot_cloth_mm=60.0)).values()) == {"short"}
    assert set(found(edits.change(layout, id, boot_cloth_mm=200.0)).values()) == {"clear"}
    assert found(edits.change(layout, id, ring_radius_mm=0.0)) == {}
