"""The evaluator: closed forms on a level floor, warm as cold, live as settled, and properties that must hold."""

import itertools
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from core.small_case import level_floor, raw_scan, small_layout
from floorpan import edits
from floorpan.advice import with_cures
from floorpan.checks import Evaluator, Finding, evaluate
from floorpan.checks.finding import WORST_FIRST
from floorpan.derive import Bench
from floorpan.frames import Pose
from floorpan.items import Shifter, gate_table
from floorpan.layout import Box
from floorpan.progress import finish
from floorpan.scan.carpet import Carpet, Layer

RAW = raw_scan(level_floor())
STORE = {RAW.sha256: RAW}
LAYOUT = small_layout(RAW)


def judged(layout=LAYOUT) -> dict[str, Finding]:  # type: ignore[no-untyped-def]
    return {f.id: f for f in finish(evaluate(layout, Bench(STORE)))}


def test_hand_over_a_level_floor_is_its_height_less_its_radius() -> None:
    """Closed form: centre of the knob over the plane less the hand's 55 mm; the ring is at rest but in reverse."""
    found = judged()
    shifter = LAYOUT.thing("shifter-1")
    assert isinstance(shifter, Shifter)
    for place in gate_table(shifter):
        finding = found[f"hand-scan:driver-1.hand:scan-1:shifter-1.gear={place.gear}"]
        assert finding.value == pytest.approx(place.knob_mm[2] - 55.0, abs=1e-6)
        assert finding.verdict == "clear"


def test_carpet_takes_its_thickness_off_every_gap_to_the_floor() -> None:
    bare, carpeted = judged(), judged(small_layout(RAW, carpet_mm=12.0))
    for id, finding in bare.items():
        if finding.check == "hand-scan" and finding.value is not None:
            assert carpeted[id].value == pytest.approx(finding.value - 12.0, abs=1e-9)


def test_a_part_that_carries_other_carpet_is_told_with_its_own() -> None:
    """Bare metal under the whole floor but a part: over that part the gap is its own carpet less."""
    box = Box(least_mm=(-700.0, -700.0, -50.0), greatest_mm=(700.0, 700.0, 50.0))
    layout = edits.add_area(edits.set_carpet(LAYOUT, 12.0), "scan-1", "tunnel top", box)
    (area,) = layout.scans[0].areas
    thick = Carpet(
        layers=(Layer(kind="insulator", loose_mm=13.0, squeezed_mm=4.0), Layer(loose_mm=7.0, squeezed_mm=3.0))
    )
    layout = edits.change_scan(layout, "scan-1", areas=(replace(area, carpet=thick),))
    bare = edits.set_carpet(LAYOUT, 0.0)
    for finding in judged(layout).values():
        if finding.met == "tunnel top" and finding.value is not None:
            same = finding.id.replace("scan-1.tunnel-top", "scan-1")
            assert finding.value == pytest.approx(judged(bare)[same].value - 20.0)
            assert finding.note == "Over 20 mm of carpet."
            return
    pytest.fail("nothing was measured to the part")


def test_more_carpet_never_widens_a_gap() -> None:
    values = [judged(small_layout(RAW, carpet_mm=mm)) for mm in (0.0, 8.0, 18.0)]
    for id in values[0]:
        told = [found[id].value for found in values]
        if values[0][id].is_gap and None not in told:
            assert told == sorted(told, reverse=True), id  # type: ignore[type-var]


@settings(max_examples=8, deadline=None)
@given(st.floats(-180, 180), st.floats(-300, 300), st.floats(-300, 300), st.floats(-200, 200))
def test_turning_car_and_design_together_changes_no_finding(
    turn: float, x: float, y: float, z: float
) -> None:
    """The scan's own axes are nobody's: the same surface handed over in other axes is judged the same."""
    pose = Pose(shift_mm=(x, y, z)).after(Pose.turned((0.3, -0.2, 1.0), turn))
    moved = level_floor().moved(pose.inverse().matrix())
    raw = raw_scan(moved)
    there = {f.id: f for f in finish(evaluate(small_layout(raw, pose), Bench({raw.sha256: raw})))}
    for id, finding in judged().items():
        assert there[id].verdict == finding.verdict, id
        if finding.value is not None:
            assert there[id].value == pytest.approx(finding.value, abs=1e-6), id


@settings(max_examples=10, deadline=None)
@given(st.lists(st.tuples(st.sampled_from(["shifter-1", "cup-holder-1", "console-1", "seat-1"]),
                          st.tuples(*[st.floats(-60, 60)] * 3)), min_size=1, max_size=4))  # fmt: skip
def test_warm_and_cold_answers_are_equal_to_the_bit(
    moves: list[tuple[str, tuple[float, float, float]]],
) -> None:
    evaluator = Evaluator(Bench(STORE))
    layout = LAYOUT
    finish(evaluator.settle(layout))
    for id, by in moves:
        layout = edits.shift(layout, id, by)
        evaluator.live(layout, budget_s=10.0, clock=lambda: 0.0)
        warm = finish(evaluator.settle(layout))
    assert warm == finish(evaluate(layout, Bench(STORE)))


def test_live_judges_what_moved_and_marks_what_waits() -> None:
    evaluator = Evaluator(Bench(STORE))
    settled = finish(evaluator.settle(LAYOUT))
    assert not any(f.stale for f in settled)
    moved = edits.shift(LAYOUT, "shifter-1", (5.0, 0.0, 0.0))
    live = {f.id: f for f in evaluator.live(moved, budget_s=10.0, clock=lambda: 0.0)}
    fresh = {f.id: f for f in finish(evaluate(moved, Bench(STORE)))}
    for id, finding in live.items():
        if finding.stale:
            assert "-" in id.rpartition(":")[2]
        elif finding.at_least:
            assert fresh[id].verdict == "clear"
        else:
            assert finding == fresh[id]
    none_judged = evaluator.live(
        edits.shift(moved, "shifter-1", (5.0, 0, 0)), budget_s=-1.0, clock=lambda: 0.0
    )
    assert {f.id for f in none_judged} == set(fresh)
    assert any(f.stale for f in none_judged)


def test_where_a_holder_moves_what_was_said_of_its_vessel_is_stale() -> None:
    evaluator = Evaluator(Bench(STORE))
    finish(evaluator.settle(LAYOUT))
    moved = edits.shift(LAYOUT, "cup-holder-1", (5.0, 0.0, 0.0))
    told = evaluator.live(moved, budget_s=10.0, clock=lambda: 0.0)
    ways = [f for f in told if "vessel-1" in f.subjects and any("-" in stop for _, stop in f.state)]
    assert ways
    assert all(f.stale for f in ways)


def test_what_is_looked_at_is_judged_before_all_but_the_very_worst() -> None:
    evaluator = Evaluator(Bench(STORE))
    finish(evaluator.settle(LAYOUT))
    # Of what turned nothing is proven without judging.
    moved = edits.turn(LAYOUT, "shifter-1", 2.0)
    ticks = itertools.count()
    told = evaluator.live(
        moved,
        budget_s=9.0,
        clock=lambda: float(next(ticks)),
        looked_at=lambda state: dict(state).get("shifter-1.gear") == "5",
    )
    gears = [
        dict(f.state)["shifter-1.gear"] for f in told if not f.stale and "shifter-1.gear" in dict(f.state)
    ]
    # A tick for every look at the clock: eight are judged, three of them the worst of before.
    assert len(gears) == 8
    assert gears.count("5") >= 5


def test_an_unset_scan_says_nothing_of_gaps_to_it() -> None:
    layout = edits.change_scan(LAYOUT, "scan-1", pose=None)
    assert not any(f.check.endswith("-scan") for f in finish(evaluate(layout, Bench(STORE))))


def test_beside_the_edge_of_the_scan_nothing_is_called_clear() -> None:
    """A hand past the outer rim: the rim is as near as the sheet, so the gap is unseen."""
    layout = edits.move(LAYOUT, "shifter-1", x_mm=-900.0)
    found = judged(layout)
    assert found["hand-scan:driver-1.hand:scan-1:shifter-1.gear=1"].verdict == "unseen"


def test_under_the_floor_is_a_hit() -> None:
    layout = edits.move(LAYOUT, "shifter-1", z_mm=-260.0)
    finding = judged(layout)["hand-scan:driver-1.hand:scan-1:shifter-1.gear=N"]
    assert finding.verdict == "hits"
    assert finding.value is not None
    assert finding.value < 0.0


def test_a_thing_off_its_floor_is_told_by_how_much() -> None:
    found = judged(edits.move(LAYOUT, "shifter-1", z_mm=10.0))["stands:shifter-1:scan-1"]
    assert (found.value, found.verdict) == (pytest.approx(10.0), "short")


def test_a_missing_dash_is_unseen_until_named_or_absent() -> None:
    layout = edits.mark_absent(LAYOUT, "dash", absent=False)
    told = [f for f in finish(evaluate(layout, Bench(STORE))) if f.met == "dash"]
    assert [f.verdict for f in told] == ["unseen"]
    assert not [f for f in judged().values() if f.met == "dash"]


def test_a_limit_set_in_the_project_is_judged_by_and_named() -> None:
    finding = judged(edits.set_limit(LAYOUT, "hand-scan", 400.0, note="track gloves"))[
        "hand-scan:driver-1.hand:scan-1:shifter-1.gear=N"
    ]
    assert finding.verdict == "short"
    assert "track gloves" in finding.limit.source


def test_a_cure_clears_its_finding_and_harms_no_other() -> None:
    layout = edits.move(LAYOUT, "cup-holder-1", x_mm=120.0, y_mm=0.0, z_mm=150.0)
    evaluator = Evaluator(Bench(STORE))
    findings = finish(evaluator.settle(layout))
    cured = [f for f in finish(with_cures(findings, layout, evaluator)) if f.cure is not None]
    assert cured
    for finding in cured:
        assert finding.cure is not None
        assert any(finding.cure.move_mm)
        moved = edits.shift(layout, finding.cure.subject, finding.cure.move_mm)
        after = {f.id: f for f in finish(evaluate(moved, Bench(STORE)))}
        assert after[finding.id].verdict == "clear"
        before = {f.id: f for f in findings}
        for id, told in after.items():
            assert WORST_FIRST.index(told.verdict) >= WORST_FIRST.index(before[id].verdict), id


def test_what_drips_is_stale_whatever_moves() -> None:
    """Drips land on whatever lies below, which no subject names."""
    evaluator = Evaluator(Bench(STORE))
    finish(evaluator.settle(LAYOUT))
    moved = edits.shift(LAYOUT, "shifter-1", (5.0, 0.0, 0.0))
    told = evaluator.live(moved, budget_s=10.0, clock=lambda: 0.0)
    drips = [f for f in told if f.check == "drip-lands"]
    assert drips
    assert all(f.stale for f in drips)
    assert not any(f.stale for f in evaluator.live(LAYOUT, budget_s=10.0, clock=lambda: 0.0))
