"""What the program says of the sample car against the closed form it was scanned from.

The truth comes from `floorpan.sample.truth`, which uses none of the geometry code under test.
"""

import itertools
import statistics
from collections.abc import Iterator

import numpy as np
import pytest

from core.sample_case import SampleCase, sample_case
from floorpan.checks import Finding, evaluate
from floorpan.checks.finding import WORST_FIRST, verdict_of
from floorpan.derive import Scene
from floorpan.geometry.mesh import Floats
from floorpan.progress import finish
from floorpan.sample.truth import gap_between, gap_to_car

FLOOR = ("tunnel", "floor", "weld lip", "stud", "cross-member", "seat bolt", "bulkhead", "heel board", "sill",
         "seat rail", "pedal")  # fmt: skip
OF_AREA = {
    "scan": FLOOR,
    "dash": ("dash", "bulkhead", "steering column"),
    "wheel rim": ("wheel rim", "wheel spoke", "wheel hub", "steering column"),
    "handbrake": ("handbrake",),
}
GAPS = ("hand-scan", "hand-vessel", "hand-seat", "hand-console", "lever-scan", "lever-vessel", "seat-console",
        "seat-seat", "vessel-scan", "console-scan")  # fmt: skip


def _standing(finding: Finding) -> bool:
    return finding.check in GAPS and not any("-" in stop for _, stop in finding.state)


def _rings(points: Floats) -> Iterator[Floats]:
    """A stack of rings two by two, since the truth takes no more than 150 points at once."""
    levels = np.unique(np.round(points[:, 2], 9))
    if len(points) <= 150:
        yield points
        return
    for low, high in itertools.pairwise(levels):
        yield points[(points[:, 2] > low - 1e-6) & (points[:, 2] < high + 1e-6)]


def _truth(finding: Finding, scene: Scene, case: SampleCase) -> float | None:
    """The closed-form gap less carpet, None where the nearest metal lies outside the named area's box."""
    body = scene.body(finding.subjects[0], finding.state)
    assert scene.floor is not None
    area = next((a for a in scene.floor.areas if a.id == finding.subjects[1]), None)
    if area is None:
        other = scene.body(finding.subjects[1], finding.state)
        return min(
            gap_between(a.points(), a.hull.radius_mm, b.points(), b.hull.radius_mm).gap_mm
            for a in body
            for b in other
        )
    found = min(
        (
            gap_to_car(points, solid.hull.radius_mm, case.car, only=OF_AREA[area.kind])
            for solid in body
            for points in _rings(solid.points())
        ),
        key=lambda gap: gap.gap_mm,
    )
    ref = case.layout.scans[0]
    inside = []
    for one in ref.areas:
        at = one.box.frame.inverse().apply(ref.pose.inverse().apply(np.array(found.on_car_mm)))  # type: ignore[union-attr]
        inside.append(bool(np.all((at >= one.box.least_mm) & (at <= one.box.greatest_mm))))
    # What a placed thing stands for yields to every other area.
    held = sorted(zip(ref.areas, inside, strict=True), key=lambda one: not one[0].stands_for)
    named = [one.id for one, within in held if within]
    if (named[-1] if named else ref.id) != area.id:
        return None
    return found.gap_mm - (case.layout.carpet_mm if area.carpeted else 0.0)


@pytest.mark.parametrize("seed", [1, *(pytest.param(s, marks=pytest.mark.long) for s in (2, 3, 4, 5))])
def test_gaps_are_within_their_doubt_and_no_hit_is_called_clear(seed: int) -> None:
    gaps_hold(sample_case(seed))


def gaps_hold(case: SampleCase) -> None:
    """Standing gaps against the closed-form car: 95 % within u, u not bought, verdicts one step off at most."""
    bench = case.bench()
    findings = finish(evaluate(case.layout, bench))
    scene = bench.scene(case.layout)
    off, doubts, told = [], [], []
    for finding in filter(_standing, findings):
        if finding.value is None:
            continue
        truth = _truth(finding, scene, case)
        if truth is None:
            continue
        off.append(abs(finding.value - truth) / finding.uncertainty)
        doubts.append(finding.uncertainty)
        true_verdict = verdict_of(truth, 1e-9, finding.limit, is_gap=True)
        told.append((finding, truth, true_verdict))
    assert len(off) >= 40, len(off)
    within = sum(ratio <= 1.0 for ratio in off) / len(off)
    worst = sorted(((abs(f.value - t), f.id, f.value, t) for f, t, _ in told), reverse=True)[:5]  # type: ignore[operator]
    assert within >= 0.95, worst
    assert statistics.median(doubts) < 2.5
    steps = ["hits", "short", "close", "clear"]
    for finding, truth, true_verdict in told:
        assert abs(steps.index(finding.verdict) - steps.index(true_verdict)) <= 1, (
            finding.id,
            finding.value,
            truth,
        )
        assert not (finding.verdict == "clear" and true_verdict == "hits"), finding.id


def test_every_kind_of_verdict_shows_in_the_sample() -> None:
    case = sample_case(1)
    findings = finish(evaluate(case.layout, case.bench()))
    assert {f.verdict for f in findings} >= {"clear", "close", "short", "hits", "unseen"}
    places = [WORST_FIRST.index(finding.verdict) for finding in findings]
    assert places == sorted(places)


def test_the_bottle_is_met_in_reverse_and_in_no_other_gear() -> None:
    case = sample_case(1)
    findings = finish(evaluate(case.layout, case.bench()))
    of_bottle = {dict(f.state)["shifter-1.gear"]: f for f in findings if f.check == "hand-vessel"}
    assert {gear for gear, f in of_bottle.items() if f.verdict == "hits"} == {"R", "N-R"}
    assert of_bottle["2"].verdict in ("close", "clear")
