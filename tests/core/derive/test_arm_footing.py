"""How far arms are told to have gone, against arms posed anew by the whole search for where the elbow may hang."""

import math

import numpy as np
import pytest

from core.small_case import level_floor, raw_scan, small_layout
from floorpan import edits
from floorpan.derive import Bench, Scene, elbow_in
from floorpan.derive.arm_footing import ArmsFooting, Gone, arm_footings
from floorpan.driver import Arm, Person
from floorpan.items import KnobPoint, Seat, Shifter
from floorpan.items.states import State
from floorpan.layout import Layout

RAW = raw_scan(level_floor(cells=8))


def base(notches: tuple[int, ...] = (4, 6)) -> Layout:
    """The small case with the knob where the arm bends to it, and fifth just within reach."""
    layout = edits.change_person(small_layout(RAW), "driver-1", notches_used=notches)
    return edits.move(layout, "shifter-1", x_mm=100.0, y_mm=-100.0, z_mm=200.0)


def arms_of(scene: Scene) -> ArmsFooting:
    person, seat, shifter = told(scene)
    return arm_footings(scene, person, seat, shifter)


def told(scene: Scene) -> tuple[Person, Seat, Shifter]:
    seat, shifter = scene.layout.thing("seat-1"), scene.layout.thing("shifter-1")
    assert isinstance(seat, Seat)
    assert isinstance(shifter, Shifter)
    return scene.layout.people[0], seat, shifter


def posed(scene: Scene, state: State) -> Arm | None:
    """By the whole search, nothing remembered of any other place."""
    person, seat, shifter = told(scene)
    found = elbow_in(scene, person, seat, shifter, state)
    return None if found is None else found.posed


def scene_of(layout: Layout) -> Scene:
    return Bench({RAW.sha256: RAW}).scene(layout)


@pytest.mark.parametrize("seed", range(3))
def test_no_point_of_an_arm_goes_farther_than_is_told(seed: int) -> None:
    """Elbow and wrist of every arm that something is told of, at places up to some 40 mm away."""
    random, layout = np.random.default_rng(seed), base()
    first = scene_of(layout)
    before = arms_of(first)
    for arm in before.arms:
        arm()
    known = 0
    for _ in range(8):
        x, y, z = (random.normal(0.0, 20.0, 3) * [1.0, 1.0, 0.4]).tolist()
        scene = scene_of(edits.shift(layout, "shifter-1", (x, y, z)))
        now = before.again(scene)
        assert now.states == arms_of(scene).states
        gone = now.gone_each_mm(before)
        assert len(gone.each_mm) == len(before.states)
        for state, mm in zip(before.states, gone.each_mm, strict=True):
            after = posed(scene, state)
            if mm is None:
                assert after is None
                continue
            assert after is not None
            if mm == math.inf:
                continue
            known += 1
            then = posed(first, state)
            assert then is not None
            for one, other in ((then.elbow_mm, after.elbow_mm), (then.wrist_mm, after.wrist_mm)):
                assert math.dist(one, other) <= mm + 1e-6
    assert known > 30


def test_an_arm_that_comes_out_of_reach_is_no_more_and_is_back_where_it_was() -> None:
    """Third taped so far ahead that the arm just gets there at the front notch, and then 40 mm farther."""
    layout = base((4,))
    scene = scene_of(layout)
    far = KnobPoint(gear="3", x_mm=-330.0, y_mm=0.0, z_mm=280.0)
    while posed(scene_of(edits.change(layout, "shifter-1", knobs=(far,))), third(scene)) is None:
        far = KnobPoint(gear="3", x_mm=far.x_mm + 10.0, y_mm=0.0, z_mm=280.0)
    layout = edits.change(layout, "shifter-1", knobs=(far,))
    before = arms_of(scene_of(layout))
    assert third(scene) in before.states
    ahead = arms_of(scene_of(edits.shift(layout, "shifter-1", (-40.0, 0.0, 0.0))))
    place = before.states.index(third(scene))
    assert third(scene) not in ahead.states
    assert ahead.gone_each_mm(before).each_mm[place] is None
    assert ahead.gone_mm(before) == math.inf
    assert len(before.gone_each_mm(ahead).each_mm) == len(ahead.states)
    beyond = arms_of(scene_of(edits.shift(layout, "shifter-1", (-2000.0, 0.0, 0.0))))
    assert beyond.states == ()
    assert set(beyond.gone_each_mm(before).each_mm) == {None}
    assert before.gone_each_mm(beyond).each_mm == ()
    back = before.again(scene_of(layout))
    assert set(back.gone_each_mm(before).each_mm) == {0.0}


def third(scene: Scene) -> State:
    """Third at the notch, belts tight."""
    return (("driver-1.belts", "tight"), ("seat-1.notch", "4"), ("shifter-1.gear", "3"))


def test_what_is_met_going_too_is_added_to_each_that_is_told() -> None:
    gone = Gone.of((3.0, math.inf, None))
    assert gone.and_mm(0.0) is gone
    assert gone.and_mm(4.0).each_mm == (7.0, math.inf, None)
    assert gone.and_mm(4.0).steps == (10.0, math.inf, None)
