"""A drag judged step by step: what is not judged anew is proven, and nothing that counts differs from judging all."""

import dataclasses
import math

import numpy as np
import pytest

from core.small_case import level_floor, raw_scan, small_layout
from floorpan import edits
from floorpan.checks import Evaluator, Finding
from floorpan.checks.catalogue import CHECKS
from floorpan.checks.check import LIVE, Bounded, Check, Reading
from floorpan.checks.finding import rank
from floorpan.derive import Bench
from floorpan.derive.footing import Footing, shifted_mm
from floorpan.frames import Vector
from floorpan.items import Place, Shifter, Vessel
from floorpan.items.states import State
from floorpan.layout import Layout
from floorpan.progress import finish

RAW = raw_scan(level_floor())
STORE = {RAW.sha256: RAW}
LAYOUT = small_layout(RAW)
REACHED = edits.move(LAYOUT, "shifter-1", x_mm=100.0, y_mm=-100.0, z_mm=200.0)
"""With the knob where the arm bends to it."""
SHOWN = "3"
ENDLESS = 1e9


def looked_at(state: State) -> bool:
    return dict(state).get("shifter-1.gear", SHOWN) == SHOWN


def walk(steps: int, thing: str, begin: Layout, far_mm: float = 3.0) -> list[Layout]:
    """A thing wandering about, now and then by a leap."""
    random, layouts, layout = np.random.default_rng(7), [], begin
    for number in range(steps):
        far = 40.0 if number % 25 == 24 else far_mm
        x, y, z = (random.normal(0.0, far, 3) * [1.0, 1.0, 0.3]).tolist()
        layout = edits.shift(layout, thing, (x, y, z))
        layouts.append(layout)
    return layouts


def counted(evaluator: Evaluator) -> list[Reading]:
    """What an evaluator judges from now on."""
    judged: list[Reading] = []

    @dataclasses.dataclass(frozen=True)
    class Counting(Bounded):
        check: Check

        def __call__(self, reading: Reading) -> Finding:
            judged.append(reading)
            return self.check.judge(reading)

        def spare_mm(self, reading: Reading, told: Finding) -> float:
            judge = self.check.judge
            return judge.spare_mm(reading, told) if isinstance(judge, Bounded) else 0.0

        def at_worst(self, reading: Reading, told: Finding, gone_mm: float) -> float:
            assert isinstance(self.check.judge, Bounded)
            return self.check.judge.at_worst(reading, told, gone_mm)

    evaluator._checks = tuple(
        dataclasses.replace(check, judge=Counting(check)) for check in evaluator._checks
    )
    return judged


@pytest.mark.parametrize(
    ("thing", "steps", "begin"),
    [
        ("shifter-1", 30, LAYOUT),
        ("shifter-1", 26, REACHED),
        pytest.param("shifter-1", 200, REACHED, marks=pytest.mark.long),
        ("cup-holder-1", 10, LAYOUT),
        ("cup-holder-1", 5, REACHED),
        ("seat-1", 6, REACHED),
    ],
)
def test_a_drag_says_what_judging_everything_says(thing: str, steps: int, begin: Layout) -> None:
    """Against every live check judged from nothing at the same place, nothing remembered."""
    evaluator = Evaluator(Bench(STORE))
    finish(evaluator.settle(begin))
    judged = counted(evaluator)
    finish(evaluator.settle(begin))
    judged.clear()
    proven, plainly, checks = 0, Bench(STORE), tuple(check for check in CHECKS if check.tier in LIVE)
    for layout in walk(steps, thing, begin):
        live = evaluator.live(layout, budget_s=ENDLESS, clock=lambda: 0.0, looked_at=looked_at)
        plain = {one.id: one for one in finish(Evaluator(plainly, checks).settle(layout))}
        assert set(plain) <= {one.id for one in live}
        fresh = [one for one in live if one.id in plain]
        assert not any(one.stale for one in fresh)
        for finding in fresh:
            there = plain[finding.id]
            assert finding.verdict == there.verdict, finding.id
            if not finding.at_least:
                assert finding.value == pytest.approx(there.value, abs=1e-9), finding.id
                continue
            proven += 1
            assert finding.value is not None
            assert there.value is not None
            if finding.limit.sense == "at_least":
                assert finding.value <= there.value + 1e-9, finding.id
        assert rank(fresh[0])[:2] == min(rank(plain[one.id])[:2] for one in fresh)
        assert not fresh[0].at_least
        moved = [
            one for one in fresh if looked_at(one.state) and one.value is not None and _moves(one, thing)
        ]
        smallest = min((one for one in moved if one.is_gap), key=lambda one: one.value or 0.0)
        assert not smallest.at_least, smallest.id
    if thing == "shifter-1":
        assert proven > 2 * len(judged), "a drag ought to leave most of it unjudged"


def _moves(finding: Finding, thing: str) -> bool:
    """Whether a finding is about what the thing takes along."""
    along = {
        "shifter-1": {"shifter-1", "driver-1"},
        "cup-holder-1": {"cup-holder-1", "vessel-1"},
        "seat-1": {"seat-1"},
    }
    return not {subject.partition(".")[0] for subject in finding.subjects}.isdisjoint(along[thing])


def test_a_thing_that_turned_or_changed_proves_nothing() -> None:
    shifter = LAYOUT.thing("shifter-1")
    assert isinstance(shifter, Shifter)
    moved = edits.shift(LAYOUT, "shifter-1", (3.0, 4.0, 12.0)).thing("shifter-1")
    assert shifted_mm(shifter, moved) == pytest.approx(13.0, abs=1e-12)
    turned = dataclasses.replace(shifter, place=dataclasses.replace(shifter.place, turn_deg=1.0))
    longer = dataclasses.replace(shifter, lever_mm=shifter.lever_mm + 1.0)
    assert shifted_mm(shifter, turned) == math.inf
    assert shifted_mm(shifter, longer) == math.inf
    assert shifted_mm(shifter, LAYOUT.thing("seat-1")) == math.inf
    assert Footing((shifter,), False).gone_mm(Footing((moved,), False)) == math.inf
    assert Footing((shifter, moved), True).gone_mm(Footing((shifter,), True)) == math.inf


def test_a_vessel_goes_with_its_holder() -> None:
    before = Bench(STORE)
    finish(before.make_floors(LAYOUT))
    held = before.scene(LAYOUT).footing("vessel-1")
    moved = edits.shift(LAYOUT, "cup-holder-1", (0.0, 6.0, 8.0))
    assert before.scene(moved).footing("vessel-1").gone_mm(held) == pytest.approx(10.0)
    vessel = LAYOUT.thing("vessel-1")
    assert isinstance(vessel, Vessel)
    assert vessel.place == Place() or vessel.stands_in


def test_what_is_proven_never_enters_a_settled_layout() -> None:
    evaluator = Evaluator(Bench(STORE))
    finish(evaluator.settle(LAYOUT))
    moved = edits.shift(LAYOUT, "shifter-1", (2.0, 0.0, 0.0))
    told = evaluator.live(moved, budget_s=ENDLESS, clock=lambda: 0.0)
    assert any(one.at_least for one in told)
    # How hard a corner may be is summed up to a ceiling: more than that is all that is ever known of it.
    gaps = [one for one in finish(evaluator.settle(moved)) if one.is_gap]
    assert not any(one.at_least or one.stale for one in gaps)


def test_where_the_scan_is_unseen_nothing_is_proven_that_might_be_unseen_there() -> None:
    """A shifter walking out over the scan's rim: unseen as soon as judging from nothing says so."""
    evaluator = Evaluator(Bench(STORE))
    finish(evaluator.settle(LAYOUT))
    seen: set[str] = set()
    layout = LAYOUT
    way: Vector = (-36.0, 0.0, 0.0)
    for _ in range(20):
        layout = edits.shift(layout, "shifter-1", way)
        live = {one.id: one for one in evaluator.live(layout, budget_s=ENDLESS, clock=lambda: 0.0)}
        key = f"hand-scan:driver-1.hand:scan-1:shifter-1.gear={SHOWN}"
        scene = evaluator.bench.scene(layout)
        check, reading = next(
            (check, one)
            for check in evaluator._checks
            if check.name == "hand-scan"
            for one in check.readings(scene)
            if dict(one.state)["shifter-1.gear"] == SHOWN
        )
        assert live[key].verdict == check.judge(reading).verdict
        seen.add(live[key].verdict)
    assert {"clear", "unseen"} <= seen


def test_arms_that_were_forgotten_and_made_anew_are_still_known() -> None:
    """What was judged of an arm outlives the bench's memory of it, which keeps only what was used last."""
    evaluator = Evaluator(Bench(STORE))
    found = finish(evaluator.settle(REACHED))
    assert any(one.check == "forearm-seat" for one in found)
    evaluator.bench.memory._held.clear()
    again = edits.shift(REACHED, "cup-holder-1", (1.0, 0.0, 0.0))
    finish(evaluator.settle(again))
    finish(evaluator.make_ready(again))
    moved = edits.shift(again, "shifter-1", (2.0, 1.0, 0.0))
    told = evaluator.live(moved, budget_s=ENDLESS, clock=lambda: 0.0)
    exact = {one.id: one.verdict for one in finish(Evaluator(Bench(STORE)).settle(moved))}
    assert all(exact[one.id] == one.verdict for one in told if not one.stale)
