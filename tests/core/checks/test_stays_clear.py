"""What a tried move need not be judged for, judged: standing, on its way, of arms, nothing of it is unclear."""

import numpy as np
import pytest

from core.checks.test_live_step import LAYOUT, STORE
from floorpan import edits
from floorpan.checks import Evaluator
from floorpan.checks.evaluate import _key
from floorpan.derive import Bench
from floorpan.items import Handbrake, Place
from floorpan.items.states import is_leg
from floorpan.layout import Layout
from floorpan.progress import finish


def furnished() -> Layout:
    layout, _ = edits.add(LAYOUT, Handbrake(id="new", place=Place(x_mm=520.0, y_mm=60.0)))
    return edits.change_person(layout, "driver-1", notches_used=(4, 6))


@pytest.mark.parametrize("thing", ["shifter-1", "cup-holder-1", "handbrake-1"])
def test_what_is_proven_to_stay_clear_is_clear(thing: str) -> None:
    """Every one of it, against a fresh judging of the moved car."""
    layout = furnished()
    evaluator = Evaluator(Bench(STORE))
    finish(evaluator.settle(layout))
    random, plainly = np.random.default_rng(3), Bench(STORE)
    proven, on_ways = 0, 0
    for far in (4.0, 15.0, 40.0):
        x, y, z = (random.normal(0.0, far, 3) * [1.0, 1.0, 0.3]).tolist()
        moved = edits.shift(layout, thing, (x, y, z))
        exact = {one.id: one for one in finish(Evaluator(plainly).settle(moved))}
        by_key = {(one.check, one.subjects, one.state): one for one in exact.values()}
        for check, reading in evaluator._readings(evaluator.bench.scene(moved)):
            held = evaluator._known.get(_key(check, reading))
            if held is None or held.same(reading) or not evaluator._stays_clear(check, reading):
                continue
            proven += 1
            on_ways += any(is_leg(stop) for _, stop in reading.state)
            finding = by_key[held.finding.check, reading.subjects, reading.state]
            assert finding.verdict == "clear", finding.id
    assert proven > 100
    assert on_ways > 10


def test_a_move_is_tried_without_judging_what_stays_clear() -> None:
    layout = furnished()
    evaluator = Evaluator(Bench(STORE))
    found = finish(evaluator.settle(layout))
    moved = edits.shift(layout, "cup-holder-1", (3.0, 2.0, 0.0))
    tried = finish(evaluator.tried(moved, found))
    touched = [one for one in found if {"cup-holder-1", "vessel-1"} & set(one.subjects)]
    seen = {one.id for one in tried.seen}
    assert seen
    assert len(seen & {one.id for one in touched}) < len(touched) / 2
    exact = {one.id: one.verdict for one in finish(Evaluator(Bench(STORE)).settle(moved))}
    worse = {one.id for one in found if one.verdict == "clear" and exact[one.id] != "clear"}
    assert worse <= seen, "whatever is no longer clear was looked at"
