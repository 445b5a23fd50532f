"""Armrest, keep-outs, wheel and thighs judged: closed forms on a level floor, and one of each at once."""

import math
from dataclasses import replace

import numpy as np
import pytest

from core.small_case import level_floor, raw_scan, small_layout
from floorpan import edits
from floorpan.checks import Evaluator, Finding, evaluate
from floorpan.derive import Bench, elbow_in
from floorpan.driver import Person
from floorpan.driver.limbs import FOREARM_RADIUS_MM, WRIST_RADIUS_MM
from floorpan.geometry.clearance import body_gap
from floorpan.items import Armrest, Buckle, Handbrake, KeepOut, Place, Seat, Shifter, Wheel, gate_table
from floorpan.layout import Layout, Thing
from floorpan.progress import finish
from floorpan.report.sentences import pair_title, sentence

RAW = raw_scan(level_floor())
REST = Armrest(id="new", place=Place(x_mm=330.0, y_mm=-50.0))


def near_knob() -> Layout:
    """The small case with the knob where the arm bends to it."""
    layout = edits.change_person(small_layout(RAW), "driver-1", notches_used=(6,))
    return edits.move(layout, "shifter-1", x_mm=100.0, y_mm=-100.0, z_mm=200.0)


def having(*things: Thing, layout: Layout | None = None) -> Layout:
    layout = near_knob() if layout is None else layout
    for thing in things:
        layout, _ = edits.add(layout, thing)
    return layout


def judged(layout: Layout) -> dict[str, Finding]:
    return {finding.id: finding for finding in finish(evaluate(layout, Bench({RAW.sha256: RAW})))}


def test_the_elbow_over_the_pad_in_neutral_is_a_difference_of_heights() -> None:
    """Closed form: elbow's height less forearm's radius less the pad's top; raised by 30 it is 30 less."""
    layout = having(REST)
    id = "armrest-elbow:driver-1.forearm:armrest-1:driver-1.belts=tight,seat-1.notch=6,shifter-1.gear=N"
    finding = judged(layout)[id]
    scene = Bench({RAW.sha256: RAW}).scene(layout)
    found = elbow_in(scene, layout.people[0], layout.seats[0], layout.of(Shifter)[0], finding.state)
    assert found is not None
    assert finding.value == pytest.approx(found.posed.elbow_mm[2] - FOREARM_RADIUS_MM - REST.height_mm)
    raised = judged(edits.change(layout, "armrest-1", height_mm=REST.height_mm + 30.0))[id]
    assert raised.value == pytest.approx(finding.value - 30.0)
    assert sentence(finding, layout).startswith("The elbow hangs ")
    assert pair_title(finding, layout) == "Elbow over armrest"


def test_the_forearm_in_every_gear_but_neutral() -> None:
    """Closed form: a level pad under a rod, its lower end over the pad: that end's height less radius less top."""
    layout = having(replace(REST, length_mm=800.0, width_mm=500.0, height_mm=60.0, radius_mm=0.0))
    found = judged(layout)
    scene = Bench({RAW.sha256: RAW}).scene(layout)
    gears = {place.gear for place in gate_table(layout.of(Shifter)[0])}
    told = {
        dict(one.state)["shifter-1.gear"]: one for one in found.values() if one.check == "armrest-forearm"
    }
    assert set(told) == gears - {"N"}
    for finding in told.values():
        at = elbow_in(scene, layout.people[0], layout.seats[0], layout.of(Shifter)[0], finding.state)
        if at is None:
            continue
        ends = np.array([at.posed.elbow_mm, at.posed.wrist_mm])
        inside = (np.abs(ends - [330.0, -50.0, 0.0])[:, :2] < [400.0, 250.0]).all(axis=1)
        low = int(ends[:, 2].argmin())
        if inside[low]:
            # A disc square to the arm hangs below the elbow by its radius times the cosine of the arm's slope.
            long = float(np.linalg.norm(ends[1] - ends[0]))
            slope = float(ends[1, 2] - ends[0, 2]) / long
            hangs = (FOREARM_RADIUS_MM - WRIST_RADIUS_MM) * math.sqrt(1.0 - slope**2)
            lowest = min(ends[0, 2] + min(0.0, slope * long / 3.0) - hangs, ends[1, 2])
            assert finding.value == pytest.approx(lowest - WRIST_RADIUS_MM - 60.0, abs=0.5)


def test_the_lid_on_its_way_against_dense_sampling() -> None:
    """A bottle beside the hinge that neither stop meets; no point moves more than 0.02 mm between two samples."""
    layout = edits.change(having(REST), "vessel-1", stands_in="")
    layout = edits.move(layout, "vessel-1", x_mm=300.0, y_mm=-50.0, z_mm=210.0)
    finding = judged(layout)[
        "armrest-vessel:armrest-1.pad:vessel-1:armrest-1.lid=shut-open,vessel-1.place=in"
    ]
    scene = Bench({RAW.sha256: RAW}).scene(layout)
    motion = scene.motion("armrest-1.pad", (), "armrest-1.lid", ("shut", "open"))
    vessel = scene.body("vessel-1", (("vessel-1.place", "in"),))
    count = math.ceil(motion.travel_mm / 0.02)
    # Between two looks no gap changes by more than anything moves: only round the lowest it is looked at so densely.
    looked, apart = set(range(0, count + 1, 100)) | {count}, 100
    gaps: dict[int, float] = {}
    while apart:
        gaps |= {n: body_gap(motion.at(n / count), vessel).distance_mm for n in looked - set(gaps)}
        low = [n for n, gap in gaps.items() if gap <= min(gaps.values()) + 0.02 * apart]
        apart //= 10
        looked = {
            k
            for n in low
            for k in range(n - 10 * apart, n + 10 * apart + 1, max(apart, 1))
            if 0 <= k <= count
        }
    dense = min(gaps.values())
    assert finding.value is not None
    step = sum(doubt.bound for doubt in finding.doubts if doubt.name == "motion step")
    assert finding.value - step <= dense + 1e-6
    assert finding.value <= dense + 0.1


def test_a_disc_is_for_screws_and_a_pipe_is_for_everything() -> None:
    """The console lies over both; only the pipe is none of its business to enter."""
    disc = KeepOut(id="new", place=Place(x_mm=100.0, y_mm=-100.0, z_mm=200.5))
    pipe = replace(disc, form="tube", what_for="pipe", place=Place(x_mm=50.0, z_mm=30.0))
    layout = having(disc, pipe)
    found = judged(layout)
    assert "keep-out:keep-out-1:console-1" not in found
    assert found["keep-out:keep-out-1:shifter-1.box"].verdict == "hits"
    assert found["keep-out:keep-out-2:console-1"].verdict == "hits"
    assert "keep-out" in sentence(found["keep-out:keep-out-2:console-1"], layout)


def test_knuckles_to_a_wheel_s_rim_in_every_gear() -> None:
    """Closed form: the ball of the hand to a torus, upright and square to the car, within the facets' width."""
    wheel = Wheel(id="new", place=Place(x_mm=-50.0, y_mm=-300.0, z_mm=450.0), lean_deg=0.0, stalk_mm=0.0)
    layout = having(wheel)
    found, [shifter] = judged(layout), layout.of(Shifter)
    for place in gate_table(shifter):
        if place.gear == "R":
            continue
        x, y, z = np.array(place.knob_mm) - [-50.0, -300.0, 450.0]
        true = math.hypot(math.hypot(y, z) - 165.0, x) - 15.0 - 55.0
        finding = found[f"hand-wheel:driver-1.hand:wheel-1:shifter-1.gear={place.gear}"]
        assert finding.value == pytest.approx(true, abs=0.4)


def test_thighs_lie_along_the_cushion_and_clear_the_console() -> None:
    """Closed form: hip 80 aside of the middle, rising as the cushion; a console 30 nearer is nearer by 30 at most."""
    layout = near_knob()
    scene = Bench({RAW.sha256: RAW}).scene(layout)
    seat = layout.seats[0]
    for side, sign in (("left", -1.0), ("right", 1.0)):
        [solid] = scene.body(f"driver-1.thigh {side}", (("seat-1.notch", "6"),))
        hip, knee = solid.points()
        np.testing.assert_allclose(
            hip, [seat.place.x_mm, seat.place.y_mm + 80.0 * sign, seat.place.z_mm], atol=1e-9
        )
        rise = math.degrees(math.atan2(knee[2] - hip[2], hip[0] - knee[0]))
        assert rise == pytest.approx(seat.cushion_deg)
    found = judged(layout)
    finding = found["thigh-console:driver-1.thigh right:console-1:seat-1.notch=6"]
    assert finding.limit.value == 25.0
    assert sentence(finding, layout).startswith("The right thigh clears the console")
    moved = judged(edits.shift(layout, "console-1", (0.0, -30.0, 0.0)))
    nearer = moved[finding.id].value
    assert finding.value is not None
    assert nearer is not None
    assert finding.value - 30.0 <= nearer < finding.value


def test_a_passenger_s_thighs_are_named_as_theirs() -> None:
    layout, seat = edits.add(
        near_knob(), Seat(id="new", for_whom="passenger", place=Place(x_mm=420.0, y_mm=300.0, z_mm=260.0))
    )
    layout, _ = edits.add_person(
        layout, Person(id="new", name="Guest", role="passenger", seat_id=seat, notches_used=(4,))
    )
    found = judged(layout)
    finding = found["thigh-console:passenger-1.thigh left:console-1:seat-2.notch=4"]
    assert "Guest\u2019s left thigh" in sentence(finding, layout)
    hand = found["hand-thigh:driver-1.hand:passenger-1.thigh left:seat-2.notch=4,shifter-1.gear=4"]
    assert "Guest\u2019s left thigh" in sentence(hand, layout)


def one_of_each() -> Layout:
    return having(
        Handbrake(id="new", place=Place(x_mm=500.0, y_mm=-60.0)),
        Buckle(id="new", seat_id="seat-1", place=Place(x_mm=450.0, y_mm=-150.0, z_mm=60.0)),
        REST,
        Wheel(id="new", place=Place(x_mm=-150.0, y_mm=-400.0, z_mm=600.0)),
        KeepOut(id="new", place=Place(x_mm=50.0, y_mm=0.0)),
    )


def test_one_of_each_is_judged_warm_as_cold() -> None:
    layout = one_of_each()
    evaluator = Evaluator(Bench({RAW.sha256: RAW}))
    before = finish(evaluator.settle(layout))
    assert {"armrest-forearm", "keep-out", "hand-wheel", "hand-thigh", "handbrake-armrest"} <= {
        one.check for one in before
    }
    moved = edits.shift(edits.shift(layout, "shifter-1", (8.0, 0.0, 0.0)), "seat-1", (0.0, 6.0, 0.0))
    assert finish(evaluator.settle(moved)) == finish(evaluate(moved, Bench({RAW.sha256: RAW})))
    for finding in before:
        assert sentence(finding, layout)


def test_a_moved_seat_makes_what_rests_on_it_stale_while_it_is_dragged() -> None:
    layout = one_of_each()
    evaluator = Evaluator(Bench({RAW.sha256: RAW}))
    finish(evaluator.settle(layout))
    moved = edits.shift(layout, "seat-1", (0.0, 5.0, 0.0))
    live = evaluator.live(moved, budget_s=9.0, clock=lambda: 0.0)
    assert {"armrest-forearm", "armrest-elbow"} <= {one.check for one in live if one.stale}
    # The thighs in it are judged as it goes.
    exact = {one.id: one for one in finish(evaluate(moved, Bench({RAW.sha256: RAW})))}
    thighs = [one for one in live if one.check == "hand-thigh"]
    assert thighs
    assert all(one.verdict == exact[one.id].verdict and not one.stale for one in thighs)
