"""The handbrake judged: closed forms down, half way and up, the hand on it, the knob in every gear, reach."""

import math

import pytest

from core.small_case import level_floor, raw_scan, small_layout
from floorpan import edits
from floorpan.checks import Evaluator, Finding, evaluate
from floorpan.console import Envelope
from floorpan.derive import Bench
from floorpan.items import Handbrake, Place, Shifter, Vessel, gate_table
from floorpan.items.handbrake import FINGERS_MM, angle_deg
from floorpan.layout import Layout
from floorpan.progress import finish
from floorpan.report.sentences import pair_title, sentence

RAW = raw_scan(level_floor())
STOPS = ("down", "half", "up")
BRAKE = Handbrake(id="new", place=Place(x_mm=500.0, y_mm=200.0))


def with_brake(brake: Handbrake = BRAKE) -> Layout:
    layout, _ = edits.add(small_layout(RAW), brake)
    return edits.change_person(layout, "driver-1", notches_used=(6,))


def judged(layout: Layout) -> dict[str, Finding]:
    return {finding.id: finding for finding in finish(evaluate(layout, Bench({RAW.sha256: RAW})))}


def held_at(brake: Handbrake, stop: str) -> tuple[float, float, float]:
    """The middle of the grip, by plain trigonometry."""
    angle, arm = math.radians(angle_deg(brake, stop)), brake.lever_mm - brake.grip_mm / 2
    at = brake.place
    return (
        at.x_mm - arm * math.cos(angle),
        at.y_mm,
        at.z_mm + brake.pivot_mm + arm * math.sin(angle),
    )


def test_the_grip_over_a_level_floor() -> None:
    """Closed form: the rear end of the grip's core over the plane, less the grip's radius; rising, down is least."""
    found = judged(with_brake())
    for stop in STOPS:
        near = BRAKE.lever_mm - BRAKE.grip_mm + BRAKE.grip_radius_mm
        up = BRAKE.pivot_mm + near * math.sin(math.radians(angle_deg(BRAKE, stop)))
        finding = found[f"handbrake-scan:handbrake-1.grip:scan-1:handbrake-1.lever={stop}"]
        assert finding.value == pytest.approx(up - BRAKE.grip_radius_mm, abs=1e-6)
    moving = found["handbrake-scan:handbrake-1.grip:scan-1:handbrake-1.lever=down-half"]
    down = found["handbrake-scan:handbrake-1.grip:scan-1:handbrake-1.lever=down"]
    assert moving.value == pytest.approx(down.value, abs=0.1)


def test_both_hands_in_every_gear_and_at_every_stop() -> None:
    """Closed form: two balls; neutral and every gear, the ring lifted in reverse for the hand but not the knob."""
    layout = with_brake()
    found, [shifter] = judged(layout), layout.of(Shifter)
    for place in gate_table(shifter):
        for stop in STOPS:
            away = math.dist(place.knob_mm, held_at(BRAKE, stop))
            state = f"handbrake-1.lever={stop},shifter-1.gear={place.gear}"
            finding = found[f"handbrake-shifter:handbrake-1.hand:shifter-1.knob:{state}"]
            wanted = away - shifter.knob_radius_mm - BRAKE.grip_radius_mm - FINGERS_MM
            assert finding.value == pytest.approx(wanted, abs=1e-6)
            assert f"hand-handbrake:driver-1.hand:handbrake-1:{state}" in found


def test_the_thickest_glove_is_on_the_handbrake() -> None:
    bare = judged(with_brake())
    gloved = judged(edits.change_person(with_brake(), "driver-1", glove_mm=10.0))
    for id, finding in bare.items():
        if finding.check in ("handbrake-vessel", "handbrake-seat") and not finding.state[0][1].count("-"):
            assert gloved[id].value == pytest.approx(finding.value - 10.0, abs=1e-6), id  # type: ignore[operator]


def test_its_hand_meets_a_bottle_on_the_way_up_and_that_is_told() -> None:
    """The vessel stands where the hand comes by half way: no stop alone tells how near it comes."""
    layout = with_brake()
    layout = edits.change(layout, "vessel-1", stands_in="")
    x, y, z = held_at(BRAKE, "half")
    layout = edits.move(layout, "vessel-1", x_mm=x, y_mm=y, z_mm=z - 60.0)
    found = judged(layout)
    hit = found["handbrake-vessel:handbrake-1.hand:vessel-1:handbrake-1.lever=half,vessel-1.place=in"]
    assert hit.verdict == "hits"
    told = sentence(hit, layout)
    assert told.startswith("Knuckles on the handbrake hit the ")
    assert "handbrake half up" in told
    assert pair_title(hit, layout).startswith("Knuckles on the handbrake")


def test_the_least_over_the_arc_is_that_of_dense_sampling() -> None:
    """No point moves more than 0.02 mm between two samples of the comparison; ours is within 0.1 mm below it."""
    layout = with_brake()
    x, _, z = held_at(BRAKE, "half")
    layout = edits.change(layout, "vessel-1", stands_in="")
    layout = edits.move(layout, "vessel-1", x_mm=x - 40.0, y_mm=BRAKE.place.y_mm, z_mm=z + 30.0)
    found = judged(layout)
    scene = Bench({RAW.sha256: RAW}).scene(layout)
    from floorpan.geometry.clearance import body_gap

    vessel = scene.body("vessel-1", (("vessel-1.place", "in"),))
    for leg in (("down", "half"), ("half", "up")):
        motion = scene.motion("handbrake-1.hand", (), "handbrake-1.lever", leg)
        count = math.ceil(motion.travel_mm / 0.02)
        dense = min(body_gap(motion.at(n / count), vessel).distance_mm for n in range(count + 1))
        state = f"handbrake-1.lever={leg[0]}-{leg[1]},vessel-1.place=in"
        finding = found[f"handbrake-vessel:handbrake-1.hand:vessel-1:{state}"]
        step = sum(doubt.bound for doubt in finding.doubts if doubt.name == "motion step")
        assert finding.value is not None
        assert dense - 1e-6 <= finding.value + 0.02
        assert finding.value - step <= dense + 1e-6
        if finding.verdict != "clear":
            assert finding.value <= dense + 0.1


def test_the_console_wall_wants_room_for_the_fingers() -> None:
    layout = with_brake()
    found = judged(layout)
    assert [console.id for console in layout.of(Envelope)] == ["console-1"]
    for stop in STOPS:
        finding = found[f"handbrake-console:handbrake-1.grip:console-1:handbrake-1.lever={stop}"]
        assert finding.limit.value == 35.0
        assert finding.limit.source == "common practice, no source"


def test_it_is_reached_down_and_up_by_the_straight_arm() -> None:
    """Closed form: shoulder to the middle of the grip against the taped arm, where that binds."""
    layout = with_brake()
    found, person, [seat] = judged(layout), layout.people[0], layout.seats
    lean = math.radians(seat.back_deg)
    shoulder = (
        seat.place.x_mm + person.shoulder_mm * math.sin(lean),
        seat.place.y_mm + person.shoulder_out_mm,
        seat.place.z_mm + person.shoulder_mm * math.cos(lean),
    )
    for stop in ("down", "up"):
        state = f"driver-1.belts=tight,handbrake-1.lever={stop},seat-1.notch=6"
        finding = found[f"reach-for:driver-1.hand:handbrake-1:{state}"]
        away = math.dist(shoulder, held_at(BRAKE, stop))
        assert finding.value == pytest.approx(person.shoulder_to_grip_mm - away, abs=1e-6)
        assert sentence(finding, layout).startswith("The handbrake is ")
        assert f"handbrake {stop}" in sentence(finding, layout)
    assert not any("lever=half" in id for id in found if id.startswith("reach-for"))


def test_moved_it_is_judged_again_and_warm_as_cold() -> None:
    layout = with_brake()
    moved = edits.shift(layout, "handbrake-1", (-40.0, 10.0, 5.0))
    bench = Bench({RAW.sha256: RAW})
    evaluator = Evaluator(bench)
    finish(evaluator.settle(layout))
    warm = finish(evaluator.settle(moved))
    assert warm == finish(evaluate(moved, Bench({RAW.sha256: RAW})))
    live = evaluator.live(edits.shift(moved, "handbrake-1", (1.0, 0.0, 0.0)), budget_s=9.0, clock=lambda: 0.0)
    stale = {finding.id for finding in live if finding.stale}
    assert any(id.startswith("handbrake-vessel") and "down-half" in id for id in stale)
    assert not any(id.startswith("seat-vessel") for id in stale)


def test_a_changed_glove_makes_the_hand_on_it_stale() -> None:
    layout = with_brake()
    evaluator = Evaluator(Bench({RAW.sha256: RAW}))
    finish(evaluator.settle(layout))
    live = evaluator.live(
        edits.change_person(layout, "driver-1", glove_mm=5.0), budget_s=9.0, clock=lambda: 0.0
    )
    assert any(one.stale for one in live if one.id.startswith("handbrake-vessel") and "down-half" in one.id)


def test_without_one_nothing_is_said() -> None:
    assert not any("handbrake" in id for id in judged(small_layout(RAW)))
    assert isinstance(small_layout(RAW).thing("vessel-1"), Vessel)
