"""Flaps, doors and a taped dash edge, judged in closed form and on their way against dense sampling."""

import math
from dataclasses import replace

import pytest

from core.small_case import level_floor, raw_scan, small_layout
from floorpan import edits
from floorpan.advice.cure_limits import movable
from floorpan.checks import Evaluator, Finding, dash_edge, door, flap, hand
from floorpan.derive import Bench, Scene
from floorpan.derive.motions import Motion
from floorpan.geometry.clearance import body_gap
from floorpan.geometry.solids import Body
from floorpan.items import Buckle, DashEdge, Door, Flap, Handbrake, Place
from floorpan.layout import Layout, Thing
from floorpan.progress import finish
from floorpan.report.sentences import pair_title, sentence

RAW = raw_scan(level_floor())


def near_knob() -> Layout:
    layout = edits.change_person(small_layout(RAW), "driver-1", notches_used=(6,))
    return edits.move(layout, "shifter-1", x_mm=100.0, y_mm=-100.0, z_mm=200.0)


def having(*things: Thing) -> Layout:
    layout = near_knob()
    for thing in things:
        layout, _ = edits.add(layout, thing)
    return layout


BENCH = Bench({RAW.sha256: RAW})
LOOKED = (*flap.CHECKS, *door.CHECKS, *dash_edge.CHECKS, *hand.CHECKS)


def judged(layout: Layout, *names: str) -> dict[str, Finding]:
    """What the checks of these names say, and those of their ways."""
    checks = tuple(check for check in LOOKED if check.name.startswith(names))
    return {finding.id: finding for finding in finish(Evaluator(BENCH, checks).settle(layout))}


def scene_of(layout: Layout) -> Scene:
    finish(BENCH.make_floors(layout))
    return BENCH.scene(layout)


def sampled(finding: Finding, motion: Motion, other: Body) -> None:
    """No point moves more than 0.02 mm between two samples about the least of a coarse look."""
    count = math.ceil(motion.travel_mm / 0.02)

    def gap(number: int) -> float:
        return body_gap(motion.at(number / count), other).distance_mm

    middle = min(range(0, count + 1, max(count // 100, 1)), key=gap)
    dense = min(gap(n) for n in range(max(middle - 200, 0), min(middle + 200, count) + 1, 4))
    step = sum(doubt.bound for doubt in finding.doubts if doubt.name == "motion step")
    assert finding.value is not None
    assert finding.value - step <= dense + 1e-6
    assert finding.value <= dense + max(0.1, step)


GLOVEBOX = Flap(id="new", name="Glovebox", place=Place(x_mm=-260.0, y_mm=-60.0, z_mm=430.0))


def test_a_flap_is_judged_against_the_hand_in_every_gear_and_on_its_way() -> None:
    layout = having(GLOVEBOX)
    found = judged(layout, "flap-hand")
    states = [dict(one.state) for one in found.values() if one.check == "flap-hand"]
    gears = {one["shifter-1.gear"] for one in states}
    assert {"1", "3", "5", "R", "N", "N-3"} <= gears
    assert {one["flap-1.flap"] for one in states} == {"closed", "half", "open", "closed-half", "half-open"}
    finding = found["flap-hand:flap-1:driver-1.hand:flap-1.flap=half-open,shifter-1.gear=3"]
    scene = scene_of(layout)
    motion = scene.motion("flap-1", (), "flap-1.flap", ("half", "open"))
    sampled(finding, motion, scene.body("driver-1.hand", (("shifter-1.gear", "3"),)))
    assert "glovebox" in sentence(finding, layout).lower()
    assert pair_title(finding, layout) == "Glovebox \u2013 knuckles"


def test_a_flap_that_swings_down_to_a_can_comes_as_near_as_its_corner() -> None:
    """Closed form: a flap open level over a can that stands upright below it."""
    layout = edits.change(having(replace(GLOVEBOX, open_deg=0.0)), "vessel-1", stands_in="")
    layout = edits.move(layout, "vessel-1", x_mm=-170.0, y_mm=-60.0, z_mm=0.0)
    found = judged(layout, "flap-vessel")["flap-vessel:flap-1:vessel-1:flap-1.flap=open,vessel-1.place=in"]
    scene = scene_of(layout)
    top = max(float(one.points()[:, 2].max()) for one in scene.body("vessel-1", (("vessel-1.place", "in"),)))
    assert found.value == pytest.approx(430.0 - 10.0 - top)


def test_a_lid_on_the_console_is_not_judged_against_it() -> None:
    lid = replace(GLOVEBOX, stands_on="console", place=Place(x_mm=100.0, z_mm=115.0), closed_deg=180.0)
    assert not any(id.startswith("flap-console") for id in judged(having(lid), "flap-console"))
    assert any(
        id.startswith("flap-console") for id in judged(having(replace(lid, stands_on="none")), "flap-console")
    )


DOOR = Door(id="new", place=Place(x_mm=-200.0, y_mm=-700.0, z_mm=120.0), bulge_from_mm=300.0)


def test_a_shut_door_s_pocket_to_the_bolster_is_a_difference_of_places() -> None:
    """Closed form: the pocket's face at -700 + 70, the cushion's bolster at -400 - 250 with a level cushion."""
    layout = edits.change(having(replace(DOOR, bulge_mm=30.0)), "seat-1", cushion_deg=0.0)
    found = judged(layout, "door-seat")["door-seat:door-1:seat-1:door-1.door=shut,seat-1.notch=6"]
    assert found.value == pytest.approx((-400.0 - 250.0) - (-700.0 + 30.0))
    assert "door shut" in sentence(found, layout) or "shut" in sentence(found, layout)
    bulging = edits.change(layout, "seat-1", bulge_mm=15.0)
    nearer = judged(bulging, "door-seat")["door-seat:door-1:seat-1:door-1.door=shut,seat-1.notch=6"]
    assert nearer.value == pytest.approx(found.value - 15.0)


def test_a_door_on_its_way_passes_a_handbrake_at_the_sill() -> None:
    """The pocket's rear inner corner swings inward before it swings out; against dense sampling."""
    brake = Handbrake(id="new", place=Place(x_mm=480.0, y_mm=-600.0, z_mm=100.0))
    layout = having(DOOR, brake)
    found = judged(layout, "door-handbrake")
    scene = scene_of(layout)
    motion = scene.motion("door-1", (), "door-1.door", ("shut", "half"))
    for stop in ("down", "up"):
        finding = found[f"door-handbrake:door-1:handbrake-1:door-1.door=shut-half,handbrake-1.lever={stop}"]
        sampled(finding, motion, scene.body("handbrake-1", (("handbrake-1.lever", stop),)))


def test_a_seat_slides_past_a_shut_door_and_a_buckle_is_met() -> None:
    layout = having(
        DOOR, Buckle(id="new", seat_id="seat-1", place=Place(x_mm=450.0, y_mm=-660.0, z_mm=150.0))
    )
    found = judged(layout, "door-")
    assert any(one.check == "door-seat" and one.subjects == ("seat-1", "door-1") for one in found.values())
    assert any(one.check == "door-buckle" for one in found.values())


def test_a_cup_holder_is_met_as_a_console_is() -> None:
    """Closed form: a level flap over the holder's top, and a flat pocket beside a round body; the lid of a console
    may lie over the wells in it."""
    shape = {"depth_mm": 80.0, "mouth_mm": 70.0, "base_mm": 70.0, "wall_mm": 3.0}
    layout = edits.remove(having(replace(GLOVEBOX, open_deg=0.0), DOOR), "console-1")
    under = edits.change(layout, "cup-holder-1", place=Place(x_mm=-170.0, y_mm=-60.0, z_mm=100.0), **shape)
    found = judged(under, "flap-console")["flap-console:flap-1:cup-holder-1:flap-1.flap=open"]
    assert found.value == pytest.approx((430.0 - 10.0) - (100.0 + 80.0))
    beside = edits.change(layout, "cup-holder-1", place=Place(x_mm=250.0, y_mm=-580.0, z_mm=250.0), **shape)
    beside = edits.change(beside, "door-1", bulge_mm=30.0)
    near = judged(beside, "door-console")["door-console:door-1:cup-holder-1:door-1.door=shut"]
    around = 38.0 * (1 / math.cos(math.pi / 24) - 1)
    wanted = (-580.0 - 38.0) - (-700.0 + 30.0)
    assert near.value is not None
    assert wanted - around - 1e-6 <= near.value <= wanted + 1e-6
    lid = edits.change(under, "flap-1", stands_on="console")
    assert not any(one.startswith("flap-console") for one in judged(lid, "flap-console"))


EDGE = DashEdge(id="new", place=Place(x_mm=-150.0, y_mm=-100.0, z_mm=420.0))


def test_a_taped_edge_stands_for_the_dash() -> None:
    """Without a scanned dash the hand's room to it is unseen, until its edge is taped."""
    bare = edits.mark_absent(near_knob(), "dash", absent=False)
    unseen = judged(bare, "hand-scan-needs", "hand-dash", "lever-dash", "vessel-dash", "thigh-dash")[
        "hand-scan:driver-1.hand:dash"
    ]
    assert unseen.verdict == "unseen"
    assert "edge" in unseen.note
    layout, _ = edits.add(bare, EDGE)
    found = judged(layout, "hand-scan-needs", "hand-dash", "lever-dash", "vessel-dash", "thigh-dash")
    assert "hand-scan:driver-1.hand:dash" not in found
    finding = found["hand-dash:driver-1.hand:dash-edge-1:shifter-1.gear=3"]
    assert finding.value is not None
    moved = judged(
        edits.shift(layout, "dash-edge-1", (0.0, 0.0, 500.0)),
        "hand-scan-needs",
        "hand-dash",
        "lever-dash",
        "vessel-dash",
        "thigh-dash",
    )[finding.id]
    assert moved.verdict == "clear"
    assert {"hand-dash", "lever-dash", "vessel-dash", "thigh-dash"} <= {one.check for one in found.values()}
    assert "dash edge" in sentence(finding, layout)


def test_a_hand_under_a_wide_level_edge_is_as_near_as_it_is_lower() -> None:
    """Closed form: a bare ball and knuckles under the middle of a wide dash."""
    layout = having(replace(EDGE, place=Place(x_mm=300.0, y_mm=-100.0, z_mm=700.0), depth_mm=700.0))
    found = judged(layout, "hand-dash")["hand-dash:driver-1.hand:dash-edge-1:shifter-1.gear=N"]
    scene = scene_of(layout)
    hand = scene.body("driver-1.hand", (("shifter-1.gear", "N"),))
    top = max(float(one.points()[:, 2].max()) + one.hull.radius_mm for one in hand)
    assert found.value == pytest.approx(700.0 - top)


def test_one_of_each_is_judged_warm_as_cold() -> None:
    layout = having(GLOVEBOX, replace(DOOR, bulge_mm=0.0), EDGE)
    evaluator = Evaluator(BENCH, LOOKED)
    before = finish(evaluator.settle(layout))
    moved = edits.shift(edits.shift(layout, "flap-1", (0.0, 6.0, 0.0)), "door-1", (4.0, 0.0, 0.0))
    assert finish(evaluator.settle(moved)) == finish(
        Evaluator(Bench({RAW.sha256: RAW}), LOOKED).settle(moved)
    )
    for finding in before:
        assert sentence(finding, layout)


def test_nobody_moves_a_dash_or_a_door_to_cure_a_gap() -> None:
    layout = having(GLOVEBOX, DOOR, EDGE)
    assert movable("dash-edge-1", layout) is None
    assert movable("door-1", layout) is None
    assert movable("flap-1", layout) == layout.thing("flap-1")
