"""Backrests that recline, judged: at every angle for the seat's own body, as driven for what a driver does."""

import math
from dataclasses import replace

import pytest

from core.small_case import level_floor, raw_scan, small_layout
from floorpan import edits
from floorpan.checks.catalogue import CHECKS
from floorpan.checks.check import Check, Reading
from floorpan.derive import Bench, Scene
from floorpan.geometry.clearance import body_gap
from floorpan.items import Armrest, Handbrake, Place, Seat
from floorpan.layout import Layout
from floorpan.progress import finish
from floorpan.report.sentences import sentence

RAW = raw_scan(level_floor())
BENCH = Bench({RAW.sha256: RAW})


def small(**recline: float) -> Layout:
    layout = edits.change_person(small_layout(RAW), "driver-1", notches_used=(6,))
    layout = edits.move(layout, "shifter-1", x_mm=100.0, y_mm=-100.0, z_mm=200.0)
    layout, _ = edits.add(layout, Handbrake(id="new", place=Place(x_mm=700.0, y_mm=-110.0)))
    layout, _ = edits.add(layout, Armrest(id="new", place=Place(x_mm=560.0, y_mm=-80.0), width_mm=80.0))
    return edits.change(layout, "seat-1", **recline)


def scene_of(layout: Layout) -> Scene:
    finish(BENCH.make_floors(layout))
    return BENCH.scene(layout)


def readings(layout: Layout) -> list[tuple[Check, Reading]]:
    scene = scene_of(layout)
    return [(check, reading) for check in CHECKS for reading in check.readings(scene)]


def stops_in(layout: Layout, check: str, axis: str) -> set[str]:
    """The stops of an axis over all that a check and its ways look at."""
    return {
        stop
        for one, reading in readings(layout)
        if one.name in (check, f"{check}-moving", f"{check}-passing")
        for name, stop in reading.state
        if name == axis
    }


RECLINING = small(recline_less_deg=10.0, recline_more_deg=45.0)


def test_a_fixed_backrest_brings_no_state_and_nothing_more_to_judge() -> None:
    fixed = readings(small())
    assert not any("recline" in axis for _, one in fixed for axis, _ in one.state)
    assert not any(check.name.startswith("seat-handbrake") for check, _ in fixed)
    assert not any(check.name == "armrest-seat-passing" for check, _ in fixed)
    laid = {
        (check.name, one.subjects, tuple(pair for pair in one.state if not pair[0].endswith(".recline")))
        for check, one in readings(RECLINING)
        if all(stop == "driven" for axis, stop in one.state if axis.endswith(".recline"))
    }
    assert {(check.name, one.subjects, one.state) for check, one in fixed} <= laid


@pytest.mark.parametrize(
    "check",
    [
        "seat-console",
        "seat-vessel",
        "seat-scan",
        "armrest-seat",
        "seat-handbrake",
        "seat-lever",
        "lever-seat",
    ],
)
def test_the_seat_s_own_body_is_judged_at_every_angle(check: str) -> None:
    stops = stops_in(RECLINING, check, "seat-1.recline")
    assert {"upright", "driven", "laid back"} <= stops
    # A lever has no leg that a backrest goes.
    assert check == "lever-seat" or {"upright-driven", "driven-laid back"} <= stops


@pytest.mark.parametrize("check", ["hand-seat", "handbrake-seat", "forearm-seat"])
def test_what_a_driver_does_is_judged_as_driven(check: str) -> None:
    assert stops_in(RECLINING, check, "seat-1.recline") == {"driven"}


@pytest.mark.parametrize("check", ["reach", "elbow", "reach-for", "thigh-console", "armrest-elbow"])
def test_how_a_driver_sits_knows_of_no_recline(check: str) -> None:
    found = [one for named, one in readings(RECLINING) if named.name == check]
    assert found
    assert not any(axis.endswith(".recline") for one in found for axis, _ in one.state)


def test_a_passenger_s_backrest_is_judged_at_every_angle_against_the_hand() -> None:
    seat = Seat(id="new", for_whom="passenger", place=Place(x_mm=420.0, y_mm=300.0, z_mm=260.0))
    layout, _ = edits.add(small(), replace(seat, recline_more_deg=40.0))
    assert stops_in(layout, "hand-seat", "seat-2.recline") == {"driven", "laid back"}


def test_the_way_down_against_dense_sampling() -> None:
    """A handbrake beside the backrest; no point moves more than 0.02 mm between two samples about the least."""
    wanted = (("handbrake-1.lever", "up"), ("seat-1.notch", "6"), ("seat-1.recline", "driven-laid back"))
    [finding] = [
        check.judge(one)
        for check, one in readings(RECLINING)
        if check.name == "seat-handbrake-moving" and one.state == wanted
    ]
    scene = scene_of(RECLINING)
    motion = scene.motion("seat-1", (("seat-1.notch", "6"),), "seat-1.recline", ("driven", "laid back"))
    brake = scene.body("handbrake-1", (("handbrake-1.lever", "up"),))
    count = math.ceil(motion.travel_mm / 0.02)

    def gap(number: int) -> float:
        return body_gap(motion.at(number / count), brake).distance_mm

    middle = min(range(0, count + 1, max(count // 100, 1)), key=gap)
    dense = min(gap(n) for n in range(max(middle - 200, 0), min(middle + 200, count) + 1, 4))
    assert finding.value is not None
    step = sum(doubt.bound for doubt in finding.doubts if doubt.name == "motion step")
    assert finding.value - step <= dense + 1e-6
    assert finding.value <= dense + 0.1


def test_a_backrest_is_told_in_words() -> None:
    told = {
        dict(one.state)["seat-1.recline"]: sentence(check.judge(one), RECLINING)
        for check, one in readings(RECLINING)
        if check.name.startswith("seat-console") and dict(one.state)["seat-1.notch"] == "6"
    }
    assert "laid back" in told["laid back"]
    assert "between as driven and laid back" in told["driven-laid back"]
    assert "driven" not in told["driven"]


def test_an_older_acceptance_of_the_driver_holds_until_the_seat_reclines() -> None:
    accepted = edits.accept(small(), "driver", date="2026-01-02")
    assert edits.step_mark(accepted, "driver") == "accepted"
    assert edits.step_mark(edits.change(accepted, "seat-1", recline_more_deg=20.0), "driver") == "look again"
