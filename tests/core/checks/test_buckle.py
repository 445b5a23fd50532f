"""Buckles judged: carried by their seat, the pressing hand, the strap, and whoever sits there reaching the button."""

import math
from dataclasses import replace

import numpy as np
import pytest

from core.small_case import level_floor, raw_scan, small_layout
from floorpan import edits
from floorpan.checks import Evaluator, Finding, evaluate
from floorpan.derive import Bench
from floorpan.driver import Person
from floorpan.items import Buckle, Place, Seat
from floorpan.items.buckle import KIND
from floorpan.items.control import FINGERS_MM
from floorpan.layout import Layout
from floorpan.progress import finish
from floorpan.report.sentences import sentence

RAW = raw_scan(level_floor())
BUCKLE = Buckle(id="new", seat_id="seat-1", place=Place(x_mm=450.0, y_mm=-150.0, z_mm=60.0), lean_deg=0.0)


def with_buckle(buckle: Buckle = BUCKLE, notches: tuple[int, ...] = (3, 6)) -> Layout:
    layout, _ = edits.add(small_layout(RAW), buckle)
    return edits.change_person(layout, "driver-1", notches_used=notches)


def judged(layout: Layout) -> dict[str, Finding]:
    return {finding.id: finding for finding in finish(evaluate(layout, Bench({RAW.sha256: RAW})))}


def slid_by(seat: Seat, notch: int) -> np.ndarray:
    """Closed form: notches from where the place holds, along the rails."""
    forward, rail = (notch - seat.notch_here) * seat.notch_mm, math.radians(seat.rail_deg)
    return np.array([-forward * math.cos(rail), 0.0, forward * math.sin(rail)])


def test_it_slides_with_its_seat_or_stays_with_the_car() -> None:
    for bolted, moves in (("seat", True), ("car", False)):
        layout = with_buckle(replace(BUCKLE, bolted_to=bolted))  # type: ignore[arg-type]
        scene, seat = Bench({RAW.sha256: RAW}).scene(layout), layout.seats[0]
        at_rest = KIND.envelope(layout.of(Buckle)[0], "buckle", {})[0].points()
        for notch in (3, 6):
            [solid] = scene.body("buckle-1.buckle", (("seat-1.notch", str(notch)),))
            there = at_rest + (slid_by(seat, notch) if moves else 0.0)
            np.testing.assert_allclose(solid.points(), there, atol=1e-9)
        assert bool(scene.axes_of("buckle-1")) is moves


def test_between_two_notches_nothing_goes_farther_than_the_seat() -> None:
    layout = with_buckle()
    scene = Bench({RAW.sha256: RAW}).scene(layout)
    for part in ("buckle-1", "buckle-1.hand", "buckle-1.strap"):
        motion = scene.motion(part, (), "seat-1.notch", ("1", "12"))
        assert motion.travel_mm == pytest.approx(11 * layout.seats[0].notch_mm)
        shares = np.linspace(0.0, 1.0, 50)
        at = np.array([np.vstack([solid.points() for solid in motion.at(share)]) for share in shares])
        steps = np.linalg.norm(np.diff(at, axis=0), axis=2).max()
        assert steps <= motion.travel_mm / 49 + 1e-9


def test_the_pressing_hand_over_a_level_floor_and_beside_the_console() -> None:
    """Closed forms: the zone's underside over the plane; a wall of the console at a known way beside it."""
    found = judged(with_buckle(replace(BUCKLE, pressed_at="front"), notches=(6,)))
    low = 60.0 + BUCKLE.stalk_mm + BUCKLE.buckle_mm - 75.0
    finding = found["press-scan:buckle-1.hand:scan-1:seat-1.notch=6"]
    assert finding.value == pytest.approx(low, abs=1e-6)
    assert finding.verdict == "clear"


def test_a_hand_in_the_shell_is_told() -> None:
    layout = with_buckle(replace(BUCKLE, place=Place(x_mm=100.0, y_mm=0.0), stalk_mm=0.0), notches=(6,))
    hit = judged(layout)["press-console:buckle-1.hand:console-1:seat-1.notch=6"]
    assert hit.verdict == "hits"
    assert sentence(hit, layout).startswith("Knuckles on the buckle hit the console")


def test_the_strap_runs_to_the_far_shoulder_and_over_the_lap() -> None:
    """By plain trigonometry, somebody sitting in the notch where the seat's place is the hip point."""
    layout = with_buckle()
    person, seat = layout.people[0], layout.seats[0]
    lap, shoulder = Bench({RAW.sha256: RAW}).scene(layout).body("buckle-1.strap", (("seat-1.notch", "6"),))
    lean = math.radians(seat.back_deg)
    x, y, z = seat.place.x_mm, seat.place.y_mm, seat.place.z_mm
    far = (
        x + person.shoulder_mm * math.sin(lean),
        y - person.shoulder_out_mm,
        z + person.shoulder_mm * math.cos(lean),
    )
    np.testing.assert_allclose(shoulder.points()[1], far, atol=1e-6)
    np.testing.assert_allclose(
        lap.points()[1], [x - 110 / math.sqrt(2), y, z + 110 / math.sqrt(2)], atol=1e-6
    )
    top = [450.0, -150.0, 60.0 + BUCKLE.stalk_mm + BUCKLE.buckle_mm]
    np.testing.assert_allclose(lap.points()[0], top, atol=1e-9)


def test_it_is_reached_by_the_better_hand_at_every_used_notch() -> None:
    """Closed form where the straight arm binds: the nearer shoulder, and thumb and fingers beyond a whole hand."""
    layout = with_buckle(replace(BUCKLE, bolted_to="car", place=Place(x_mm=-100.0, y_mm=-150.0, z_mm=300.0)))
    found, person, seat = judged(layout), layout.people[0], layout.seats[0]
    for notch in (3, 6):
        state = f"driver-1.belts=tight,seat-1.notch={notch}"
        finding = found[f"reach-for:driver-1.hand:buckle-1:{state}"]
        hip = np.array([seat.place.x_mm, seat.place.y_mm, seat.place.z_mm]) + slid_by(seat, notch)
        lean = math.radians(seat.back_deg)
        up = person.shoulder_mm * np.array([math.sin(lean), 0.0, math.cos(lean)])
        button = np.array([-100.0, -150.0, 300.0 + BUCKLE.stalk_mm + BUCKLE.buckle_mm])
        away = min(
            float(np.linalg.norm(hip + up + [0.0, side * person.shoulder_out_mm, 0.0] - button))
            for side in (-1.0, 1.0)
        )
        assert finding.value == pytest.approx(
            person.shoulder_to_grip_mm + FINGERS_MM["three fingers"] - away, abs=1e-6
        )


def test_a_passenger_reaches_their_own_and_nobody_anothers() -> None:
    layout = with_buckle()
    layout, seat = edits.add(
        layout, Seat(id="new", for_whom="passenger", place=Place(x_mm=420.0, y_mm=400.0, z_mm=260.0))
    )
    layout, _ = edits.add_person(layout, Person(id="new", role="passenger", seat_id=seat, notches_used=(4,)))
    layout, own = edits.add(layout, replace(BUCKLE, seat_id=seat, place=Place(x_mm=450.0, y_mm=150.0)))
    reached = {id for id in judged(layout) if id.startswith("reach-for") and "buckle" in id}
    assert reached == {
        "reach-for:driver-1.hand:buckle-1:driver-1.belts=tight,seat-1.notch=3",
        "reach-for:driver-1.hand:buckle-1:driver-1.belts=tight,seat-1.notch=6",
        f"reach-for:passenger-1.hand:{own}:passenger-1.belts=tight,{seat}.notch=4",
    }


def test_a_moved_seat_takes_it_along_and_warm_is_as_cold() -> None:
    layout = with_buckle()
    evaluator = Evaluator(Bench({RAW.sha256: RAW}))
    finish(evaluator.settle(layout))
    moved = edits.shift(edits.change(layout, "seat-1", notch_mm=20.0), "buckle-1", (5.0, 0.0, 0.0))
    assert finish(evaluator.settle(moved)) == finish(evaluate(moved, Bench({RAW.sha256: RAW})))


def test_a_buckle_of_no_seat_has_no_strap() -> None:
    found = judged(with_buckle(replace(BUCKLE, seat_id="")))
    assert not any(id.startswith("strap-console") for id in found)
    assert any(id.startswith("buckle-console:buckle-1:console-1") for id in found)
