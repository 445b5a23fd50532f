"""Parts from mesh files judged as what they stand for: a box from a file as the box it is, none without its file."""

import dataclasses
import math
from dataclasses import replace
from typing import Any

import numpy as np
import pytest

from core.geometry.test_mesh_solids import box_mesh, channel, joined
from core.geometry.test_tiled_skins import dented_ball
from core.small_case import level_floor, raw_scan, small_layout
from floorpan import edits
from floorpan.checks import Evaluator, Finding, evaluate, forearm, hand, lift_out, mesh_parts
from floorpan.checks.catalogue import CHECKS
from floorpan.checks.check import Check
from floorpan.checks.mesh_parts import PAIRS
from floorpan.console import Envelope, Station
from floorpan.derive import Bench
from floorpan.geometry.clearance import body_gap
from floorpan.geometry.mesh import Mesh
from floorpan.geometry.mesh_solids import MeshHull
from floorpan.items import Armrest, Buckle, Handbrake, KeepOut, MeshPart, Place, Vessel
from floorpan.items.states import state_of
from floorpan.layout import Layout, Thing
from floorpan.limits import LIMITS
from floorpan.progress import finish
from floorpan.report.sentences import pair_title, sentence
from floorpan.scan import RawScan
from floorpan.scan.part_mesh import sides_in_file

FLOOR = raw_scan(level_floor())
CONSOLE = raw_scan(box_mesh((1000.0, -80.0, 700.0), (1300.0, 80.0, 800.0)))
"""A box of 300 by 160 by 100, anywhere in its file."""
_OF_PARTS = (*mesh_parts.CHECKS, *forearm.CHECKS)
STORE = {one.sha256: one for one in (FLOOR, CONSOLE)}


def part_of(raw: RawScan, **fields: Any) -> MeshPart:
    told: dict[str, Any] = {
        "id": "new",
        "sha256": raw.sha256,
        "suffix": ".stl",
        "original_name": "part.stl",
        "unit": "mm",
        "sides_in_file": sides_in_file(raw),
    }
    return MeshPart(**{**told, **fields})


def having(*things: Thing) -> Layout:
    layout = edits.change_person(
        edits.remove(small_layout(FLOOR), "console-1"), "driver-1", notches_used=(6,)
    )
    layout = edits.move(layout, "shifter-1", x_mm=100.0, y_mm=-100.0, z_mm=200.0)
    for thing in things:
        layout, _ = edits.add(layout, thing)
    return layout


def judged(
    layout: Layout, store: dict[str, RawScan] | None = None, checks: tuple[Check, ...] = mesh_parts.CHECKS
) -> dict[str, Finding]:
    evaluator = Evaluator(Bench(STORE if store is None else store), checks)
    return {finding.id: finding for finding in finish(evaluator.settle(layout))}


def fitted() -> tuple[Thing, ...]:
    return (
        Handbrake(id="new", place=Place(x_mm=500.0, y_mm=-60.0)),
        Buckle(id="new", seat_id="seat-1", place=Place(x_mm=450.0, y_mm=-150.0, z_mm=60.0)),
        Armrest(id="new", place=Place(x_mm=330.0, y_mm=-50.0)),
        KeepOut(id="new", what_for="pipe", place=Place(x_mm=50.0, y_mm=0.0)),
    )


def test_a_box_from_a_file_is_judged_as_the_console_it_is() -> None:
    """The same findings with the same numbers; the arm, which is let hang by consoles only, apart."""
    stations = (
        Station(x_mm=-150.0, width_mm=160.0, height_mm=100.0),
        Station(x_mm=150.0, width_mm=160.0, height_mm=100.0),
    )
    turned = Place(x_mm=60.0, y_mm=20.0, z_mm=10.0, turn_deg=12.0)
    plain = judged(
        having(*fitted(), Envelope(id="new", place=turned, stations=stations, stands_on="none")),
        checks=CHECKS,
    )
    mesh = judged(having(*fitted(), part_of(CONSOLE, place=turned, counts_as="console shell")), checks=CHECKS)
    own = {"lever-opening", "console-seen", "forearm-console", "lift-out", "lift-out-hand", "door-console"}
    compared = 0
    for id, finding in plain.items():
        if "console-2" in id and finding.check not in own:
            same = mesh[id.replace("console-2", "mesh-part-1")]
            assert same.value == pytest.approx(finding.value, abs=1e-6), id
            assert same.verdict == finding.verdict, id
            compared += 1
    assert compared > 20
    assert {one.check for one in mesh.values() if "mesh-part-1" in one.subjects} >= {
        *("hand-console", "forearm-console", "handbrake-console", "press-console", "buckle-console"),
        *("strap-console", "thigh-console", "seat-console", "keep-out"),
    }


@pytest.mark.parametrize(
    ("counts_as", "checks"),
    [
        ("seat", {"hand-seat", "lever-seat", "handbrake-seat", "armrest-seat", "seat-vessel", "seat-seat"}),
        ("vessel", {"hand-vessel", "lever-vessel", "press-vessel", "vessel-scan"}),
        ("steering wheel", {"hand-wheel"}),
        ("handbrake", {"hand-handbrake", "keep-out"}),
        ("shifter box", {"thigh-shifter", "seat-lever", "keep-out"}),
        ("keep-out", {"keep-out"}),
        ("dash or trim", {"hand-scan", "lever-scan", "handbrake-scan", "press-scan", "vessel-scan"}),
        ("other", {"hand-scan", "lever-scan"}),
    ],
)
def test_a_part_is_judged_as_what_it_stands_for(counts_as: str, checks: set[str]) -> None:
    layout = having(*fitted(), part_of(CONSOLE, place=Place(x_mm=60.0, y_mm=300.0), counts_as=counts_as))
    found = [one for one in judged(layout).values() if "mesh-part-1" in one.subjects]
    assert {one.check for one in found} >= checks
    assert all(one.value is not None or one.check == "vessel-scan" for one in found)
    for finding in found:
        assert "part" in sentence(finding, layout).lower()
        assert pair_title(finding, layout)


def test_the_forearm_is_judged_against_parts_too() -> None:
    layout = having(
        *(
            part_of(CONSOLE, place=Place(x_mm=60.0, y_mm=300.0 * n), counts_as=word)
            for n, word in enumerate(("other", "seat", "vessel", "console shell"), 1)
        )
    )
    found = {(one.check, one.subjects[1]) for one in judged(layout, checks=forearm.CHECKS).values()}
    assert found >= {
        ("forearm-scan", "mesh-part-1"),
        ("forearm-seat", "mesh-part-2"),
        ("forearm-vessel", "mesh-part-3"),
        ("forearm-console", "mesh-part-4"),
    }


def test_a_dash_from_a_file_is_the_dash_that_was_missing() -> None:
    layout = edits.mark_absent(having(), "dash", absent=False)
    assert "hand-scan:driver-1.hand:dash" in judged(layout, checks=hand.CHECKS)
    dash = part_of(CONSOLE, counts_as="dash or trim", place=Place(x_mm=-400.0, z_mm=500.0))
    layout, _ = edits.add(layout, dash)
    found = judged(layout, checks=(*hand.CHECKS, *mesh_parts.CHECKS, *lift_out.CHECKS))
    assert "hand-scan:driver-1.hand:dash" not in found
    assert {"hand-scan", "thigh-dash", "lift-out", "lift-out-hand"} <= {
        one.check for one in found.values() if "mesh-part-1" in one.subjects
    }


def test_every_limit_of_the_table_is_there_and_every_check_has_a_name_of_its_own() -> None:
    assert {limit for limit, _, _ in PAIRS} <= set(LIMITS)
    names = [check.name for check in CHECKS]
    assert len(names) == len(set(names))


def test_in_the_channel_of_a_console_is_not_in_its_stuff() -> None:
    """The knuckles' ball of 55 mm in a channel 60 wide: 5 too deep at either wall, though within its outline."""
    raw = raw_scan(channel())
    layout = having(part_of(raw, counts_as="console shell", place=Place(x_mm=400.0)))
    scene = Bench({**STORE, raw.sha256: raw}).scene(layout)
    [solid] = scene.body("mesh-part-1", ())
    assert solid.hull.uneven is not None
    found = judged(layout, {**STORE, raw.sha256: raw})
    finding = found["hand-console:driver-1.hand:mesh-part-1:shifter-1.gear=N"]
    hand = scene.body("driver-1.hand", state_of({"shifter-1.gear": "N"}))
    assert finding.value == pytest.approx(body_gap(hand, (solid,)).distance_mm)


def test_a_lid_that_swings_comes_nearest_to_a_can_on_its_way() -> None:
    """Against samples, 0.2 mm from one to the next near the least: never above them, never over 0.1 mm below."""
    lid = part_of(
        CONSOLE,
        counts_as="console shell",
        motion="swings",
        swing_deg=-60.0,
        axis_x_mm=150.0,
        place=Place(x_mm=410.0, y_mm=60.0, z_mm=150.0),
    )
    layout = having(lid)
    found = judged(layout)
    finding = found["part-moves:mesh-part-1:vessel-1:mesh-part-1.travel=home-far,vessel-1.place=in"]
    scene = Bench(STORE).scene(layout)
    motion = scene.motion("mesh-part-1", (), "mesh-part-1.travel", ("home", "far"))
    vessel = scene.body("vessel-1", (("vessel-1.place", "in"),))
    count = math.ceil(motion.travel_mm / 0.02)
    gaps = {n: body_gap(motion.at(n / count), vessel).distance_mm for n in range(0, count + 1, 400)}
    around = min(gaps, key=gaps.__getitem__)
    near = range(max(around - 400, 0), min(around + 400, count) + 1, 10)
    dense = min(body_gap(motion.at(n / count), vessel).distance_mm for n in near)
    step = sum(doubt.bound for doubt in finding.doubts if doubt.name == "motion step")
    assert finding.value is not None
    assert finding.value - step <= dense + 1e-6
    assert finding.value <= dense + 0.1
    # Its upper corner passes the can's middle height where the hinge's height is: all on one line.
    can = next(one for one in layout.things() if one.id == "vessel-1")
    assert isinstance(can, Vessel)
    widest = max(radius for _, radius in can.profile)
    expected = 560.0 - math.hypot(300.0, 100.0) - (200.0 + widest)
    assert finding.value == pytest.approx(expected, abs=0.3)
    for stop in ("home", "far"):
        stood = found[f"part-moves:mesh-part-1:vessel-1:mesh-part-1.travel={stop},vessel-1.place=in"]
        assert stood.value is not None
        assert stood.value > finding.value + 1.0


def test_a_part_whose_file_is_gone_is_unseen_and_never_clear() -> None:
    """It stands there as its box, and says so plainly."""
    layout = having(
        *fitted(), part_of(CONSOLE, counts_as="console shell", place=Place(x_mm=60.0, y_mm=300.0))
    )
    here = [
        one
        for one in judged(layout, checks=_OF_PARTS).values()
        if "mesh-part-1" in one.subjects and one.check != "stands"
    ]
    gone = judged(layout, {FLOOR.sha256: FLOOR}, _OF_PARTS)
    lost = [one for one in gone.values() if "mesh-part-1" in one.subjects]
    assert {one.verdict for one in lost} == {"unseen"}
    pairs = {(one.check, *one.subjects) for one in here}
    assert pairs <= {(one.check, *one.subjects) for one in lost} | {
        pair for pair in pairs if pair[0] == "console-scan" or pair[1].endswith("upper arm")
    }
    assert all(one.note.startswith("Its file is not in the project.") for one in lost)
    [solid] = Bench({FLOOR.sha256: FLOOR}).scene(layout).body("mesh-part-1", ())
    assert np.ptp(solid.box(), axis=0).tolist() == [300.0, 160.0, 100.0]


def test_a_part_whose_file_holds_no_mesh_is_unseen_and_the_rest_is_judged() -> None:
    points = dataclasses.replace(CONSOLE, mesh=Mesh(CONSOLE.mesh.points, np.zeros((0, 3), dtype=np.int32)))
    layout = having(part_of(CONSOLE, counts_as="seat"))
    found = judged(layout, {FLOOR.sha256: FLOOR, CONSOLE.sha256: points})
    lost = [one for one in found.values() if "mesh-part-1" in one.subjects and one.check == "hand-seat"]
    assert [one.verdict for one in lost] == ["unseen"]
    assert "points without triangles" in lost[0].note


def test_in_another_unit_it_is_another_size() -> None:
    raw = raw_scan(box_mesh((0.0, 0.0, 0.0), (10.0, 4.0, 2.0)))
    for unit, size in (("mm", [10.0, 4.0, 2.0]), ("in", [254.0, 101.6, 50.8])):
        scene = Bench({**STORE, raw.sha256: raw}).scene(having(part_of(raw, unit=unit)))
        [solid] = scene.body("mesh-part-1", ())
        assert np.ptp(solid.box(), axis=0) == pytest.approx(size)


def test_warm_is_cold_where_a_part_is_moved_turned_and_made_to_swing() -> None:
    raw = raw_scan(joined(channel(), box_mesh((-10.0, -10.0, 90.0), (10.0, 10.0, 120.0))))
    store = {**STORE, raw.sha256: raw}
    layout = having(part_of(raw, counts_as="console shell", place=Place(x_mm=60.0, y_mm=150.0)))
    evaluator = Evaluator(Bench(store))
    finish(evaluator.settle(layout))
    moved = edits.turn(edits.shift(layout, "mesh-part-1", (9.0, -4.0, 2.0)), "mesh-part-1", 20.0)
    moved = edits.change(moved, "mesh-part-1", motion="slides", slide_mm=40.0, lean_deg=5.0)
    assert finish(evaluator.settle(moved)) == finish(evaluate(moved, Bench(store)))


def test_what_the_shell_may_do_a_part_may_do() -> None:
    layout = having(part_of(CONSOLE, side_deg=10.0, place=Place(y_mm=30.0, turn_deg=20.0)))
    thing = edits.mirror(layout, "mesh-part-1").thing("mesh-part-1")
    assert isinstance(thing, MeshPart)
    assert (thing.place.y_mm, thing.place.turn_deg, thing.side_deg) == (-30.0, -20.0, -10.0)
    assert edits.remove(layout, "mesh-part-1").of(MeshPart) == ()
    assert replace(thing, unit="cm").sides_mm() == pytest.approx((3000.0, 1600.0, 1000.0))


def test_a_fine_part_is_made_ready_tile_by_tile_before_a_gap_asks_for_it() -> None:
    raw = raw_scan(dented_ball(38))
    layout, bench = having(part_of(raw)), Bench({**STORE, raw.sha256: raw})
    done = [step.done for step in bench.meshes.make(layout)]
    assert done == sorted(done)
    [part] = layout.of(MeshPart)
    hull = bench.meshes.hull(part)
    assert isinstance(hull, MeshHull)
    assert len(done) > len(hull.tiles) > 2
    assert hull.built == 1.0
    # One that was made in passing is finished later.
    late = Bench(bench.store)
    hull = late.meshes.hull(part)
    assert isinstance(hull, MeshHull)
    assert hull.built == 0.0
    assert late.meshes.is_ready(layout)
    finish(Evaluator(late, mesh_parts.CHECKS).make_ready(layout))
    assert hull.built == 1.0
