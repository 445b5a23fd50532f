"""What gets worse where the knob should be: closed forms on the sample and on a level floor, and every check again."""

from dataclasses import replace

import numpy as np
import pytest

from core.sample_case import sample_case
from core.small_case import level_floor, raw_scan, small_layout
from floorpan import edits
from floorpan.advice.knob_costs import LEAST_WORSE, Worse, worse_there
from floorpan.checks import Finding, evaluate
from floorpan.checks.finding import WORST_FIRST
from floorpan.derive import Bench, Scene
from floorpan.items.states import is_leg
from floorpan.layout import Layout
from floorpan.limits import LIMITS
from floorpan.progress import Step, finish

RAW = raw_scan(level_floor(cells=12))
LAYOUT = small_layout(RAW)
SAMPLE = sample_case(1)
# Towards the bottle from 4th, by less than there is between them.
TOWARDS_MM = 3.0


def scene_of(layout: Layout) -> Scene:
    bench = Bench({RAW.sha256: RAW})
    finish(bench.make_floors(layout))
    return bench.scene(layout)


def gear(finding: Finding) -> str:
    return dict(finding.state).get("shifter-1.gear", "")


@pytest.fixture(scope="module")
def sample_now() -> tuple[Scene, tuple[Finding, ...]]:
    bench = SAMPLE.bench()
    findings = finish(evaluate(SAMPLE.layout, bench))
    return bench.scene(SAMPLE.layout), findings


def hand_to_bottle(findings: tuple[Finding, ...], at: str) -> Finding:
    return next(one for one in findings if one.check == "hand-vessel" and gear(one) == at)


@pytest.fixture(scope="module")
def towards_bottle(sample_now: tuple[Scene, tuple[Finding, ...]]) -> tuple[Worse, ...]:
    scene, findings = sample_now
    x, y, z = np.array(hand_to_bottle(findings, "4").away) * -TOWARDS_MM
    return finish(worse_there(scene, (float(x), float(y), float(z)), findings))


def test_towards_the_bottle_the_hand_loses_just_what_it_was_moved(
    sample_now: tuple[Scene, tuple[Finding, ...]], towards_bottle: tuple[Worse, ...]
) -> None:
    # Two convex bodies that part along their nearest points come nearer by the whole of a move along that line: not
    # by more, a distance cannot change by more than the move; not by less, the slab between them is so much thinner.
    fourth = next(
        one for one in towards_bottle if one.there.check == "hand-vessel" and gear(one.there) == "4"
    )
    now = hand_to_bottle(sample_now[1], "4")
    assert now.value is not None
    assert now.value > TOWARDS_MM
    assert fourth.here is now
    assert fourth.there.value == pytest.approx(now.value - TOWARDS_MM, abs=1e-3)
    assert fourth.less_by == pytest.approx(TOWARDS_MM, abs=1e-3)
    # Reverse, where they cross, is in it too; no gap changes by more than the move.
    assert any(one.there.verdict == "hits" and gear(one.there) == "R" for one in towards_bottle)
    hands = [one for one in towards_bottle if one.there.check == "hand-vessel"]
    assert all(one.less_by <= TOWARDS_MM + 1e-3 for one in hands)


def test_the_worst_comes_first_and_each_gear_of_a_pair_once(towards_bottle: tuple[Worse, ...]) -> None:
    places = [WORST_FIRST.index(one.there.verdict) for one in towards_bottle]
    assert places == sorted(places)
    names = [(one.there.check, one.there.subjects, gear(one.there)) for one in towards_bottle]
    assert len(names) == len(set(names))


def test_away_from_the_bottle_the_hand_gets_no_worse_against_it(
    sample_now: tuple[Scene, tuple[Finding, ...]],
) -> None:
    scene, findings = sample_now
    x, y, z = np.array(hand_to_bottle(findings, "4").away) * 40.0
    found = finish(worse_there(scene, (float(x), float(y), float(z)), findings))
    assert not [one for one in found if one.there.check == "hand-vessel" and gear(one.there) == "4"]


def lowered(by_mm: float, layout: Layout = LAYOUT) -> tuple[Worse, ...]:
    return finish(worse_there(scene_of(layout), (0.0, 0.0, -by_mm)))


def test_over_a_level_floor_every_gear_loses_the_height_it_is_lowered_by() -> None:
    # Plane and ball: the gap is the height less the radius.
    found = [
        one for one in lowered(200.0) if one.there.check == "hand-scan" and "scan-1" in one.there.subjects
    ]
    assert found
    for one in found:
        assert one.less_by == pytest.approx(200.0, abs=0.1)
        assert one.there.value is not None
        assert one.there.value < LIMITS["hand-scan"].value + one.there.uncertainty


@pytest.mark.parametrize("move", [(0.0, 0.0, -150.0), (120.0, 60.0, -40.0)])
def test_it_tells_what_two_whole_judgements_tell(move: tuple[float, float, float]) -> None:
    bench = Bench({RAW.sha256: RAW})
    before = {one.id: one for one in finish(evaluate(LAYOUT, bench))}
    after = {one.id: one for one in finish(evaluate(edits.shift(LAYOUT, "shifter-1", move), bench))}
    found = finish(worse_there(bench.scene(LAYOUT), move))
    for one in found:
        assert (one.here.verdict, one.here.value) == (before[one.here.id].verdict, before[one.here.id].value)
        assert (one.there.verdict, one.there.value) == (
            after[one.there.id].verdict,
            after[one.there.id].value,
        )
    # Nothing is left out: every worse standing state has its pair and gear among what is told.
    told = {(one.there.check, one.there.subjects, gear(one.there)) for one in found}
    for id, there in after.items():
        now = before.get(id)
        if now is None or "shifter-1" in there.subjects or any(is_leg(stop) for _, stop in there.state):
            continue
        if there.verdict not in ("clear", "pending", "unseen") and now.verdict != "unseen":
            worse = Worse(there, now)
            assert (worse.less_by < LEAST_WORSE) or (there.check, there.subjects, gear(there)) in told


def test_what_only_gets_a_little_nearer_is_not_told() -> None:
    assert not [one for one in lowered(LEAST_WORSE / 2) if one.there.verdict != "unseen"]


def test_a_leg_is_told_only_where_it_is_worse_than_its_gears(towards_bottle: tuple[Worse, ...]) -> None:
    standing = {
        (one.there.check, one.there.subjects) for one in towards_bottle if not is_leg(gear(one.there))
    }
    for one in towards_bottle:
        if is_leg(gear(one.there)) and (one.there.check, one.there.subjects) in standing:
            least = min(
                other.there.value
                for other in towards_bottle
                if other.there.subjects == one.there.subjects
                and other.there.check == one.there.check
                and other.there.value is not None
                and not is_leg(gear(other.there))
            )
            assert one.there.value is not None
            assert one.there.value <= least - LEAST_WORSE + 1e-9


def test_stale_findings_count_for_nothing() -> None:
    found = lowered(200.0)
    wrong = [replace(one.here, value=-500.0, verdict="hits", stale=True) for one in found]
    again = finish(worse_there(scene_of(LAYOUT), (0.0, 0.0, -200.0), wrong))
    assert [one.here.value for one in again] == [one.here.value for one in found]
    fresh = [replace(one, stale=False) for one in wrong]
    assert not [
        one
        for one in finish(worse_there(scene_of(LAYOUT), (0.0, 0.0, -200.0), fresh))
        if one.there.verdict != "unseen" and one.here.verdict == "hits"
    ]


def test_no_move_no_shifter_nothing_worse_and_a_locked_one_is_looked_at_too() -> None:
    assert finish(worse_there(scene_of(LAYOUT), (0.0, 0.0, 0.0))) == ()
    assert finish(worse_there(scene_of(edits.remove(LAYOUT, "shifter-1")), (0.0, 0.0, -200.0))) == ()
    locked = lowered(200.0, edits.lock(LAYOUT, "shifter-1", True))
    assert [one.there.id for one in locked] == [one.there.id for one in lowered(200.0)]


def test_it_says_how_far_it_is_and_stops_where_it_is_asked_to() -> None:
    steps: list[Step] = []
    finish(worse_there(scene_of(LAYOUT), (0.0, 0.0, -200.0)), steps.append)
    shares = [step.done for step in steps]
    assert shares == sorted(shares)
    assert len(shares) > 5
    work = worse_there(scene_of(LAYOUT), (0.0, 0.0, -200.0))
    for _ in range(4):
        next(work)
    work.close()
    with pytest.raises(StopIteration):
        next(work)
