"""How long the region of knob places takes here: eight gears, three notches, six limits, voxels of 10 mm.

    python tests/bench/bench_knob_region.py [spacing in mm]

Beside it stands the obvious way over the same voxels: every one of them judged for itself in a loop, timed on some
strewn over the field and multiplied; and, between the two, every term over every voxel at once. All answer the same,
which is checked. The load of the machine is in all times; the least and the middle of several rounds are shown.
"""

import math
import statistics
import sys
import time
from collections.abc import Callable

import numpy as np

from floorpan.advice import (
    ArmAt,
    KnobQuestion,
    KnobRegion,
    capsule_limit,
    field_limit,
    knob_region,
    nearest,
    plane_limit,
    sides,
    torus_limit,
)
from floorpan.progress import finish

ROUNDS = 7
ONE_BY_ONE = 400
HAND = 55.0


def a_dash() -> tuple[tuple[float, float, float], np.ndarray]:
    """Distances to a box of 120 x 600 x 160, sampled every 10 mm."""
    corner = (250.0, -400.0, 300.0)
    ticks = [start + 10.0 * np.arange(count) for start, count in zip(corner, (30, 80, 50), strict=True)]
    places = np.stack(np.meshgrid(*ticks, indexing="ij"), axis=-1)
    out = np.maximum(np.abs(places - [300.0, 0.0, 550.0]) - [60.0, 300.0, 80.0], 0.0)
    return corner, np.linalg.norm(out, axis=-1)


def question() -> KnobQuestion:
    gears = [(x, y, 0.0) for y in (-35.0, 0.0, 35.0) for x in (-50.0, 50.0)]
    arms = tuple(
        ArmAt(
            name=f"notch {notch}",
            shoulder_mm=(900.0 + 20.0 * notch, -145.0, 700.0),
            upper_mm=335.0,
            lower_mm=330.0,
            elbow_least_deg=75.0,
            elbow_most_deg=160.0,
        )
        for notch in (1, 2, 3)
    )
    corner, distances = a_dash()
    return KnobQuestion(
        arms=arms,
        gears=("1", "2", "3", "4", "5", "6", "R", "R lifted"),
        grips_mm=np.array([*gears, (-50.0, -70.0, 0.0), (-50.0, -70.0, 15.0)]),
        present_mm=(380.0, 0.0, 420.0),
        limits=(
            torus_limit("wheel rim", (480.0, -350.0, 640.0), (1.0, 0.0, 0.45), 175.0, 16.0, HAND),
            capsule_limit("thigh", (800.0, -230.0, 380.0), (420.0, -230.0, 480.0), 80.0, HAND),
            capsule_limit("bolster", (900.0, -100.0, 300.0), (750.0, -120.0, 330.0), 60.0, HAND),
            plane_limit("backrest", (930.0, 0.0, 500.0), (-1.0, 0.0, 0.3), HAND),
            plane_limit("armrest", (0.0, 0.0, 300.0), (0.0, 0.0, 1.0), HAND),
            field_limit("dash", corner, 10.0, distances, HAND),
        ),
    )


def timed(what: str, work: Callable[[], object]) -> float:
    times = []
    for _ in range(ROUNDS):
        start = time.perf_counter()
        work()
        times.append(1000.0 * (time.perf_counter() - start))
    print(f"{what}: {min(times):.0f} ms at least, {statistics.median(times):.0f} ms in the middle")
    return min(times)


def every_voxel(region: KnobRegion) -> np.ndarray:
    return region.field.places(np.argwhere(np.ones(region.field.margin.shape, dtype=bool)))


def one_by_one(asked: KnobQuestion, places: np.ndarray) -> list[float]:
    """The loop over voxels, arms and gears as one would write it down."""
    found = []
    for place in places:
        least = math.inf
        for grip in asked.grips_mm:
            hand = place + grip
            for arm in asked.arms:
                span = math.dist(hand, arm.shoulder_mm)
                least = min(least, arm.longest_mm - span, span - arm.shortest_mm)
            for limit in asked.limits:
                least = min(least, float(limit.margin(hand[None])[0]))
        found.append(least)
    return found


def main(spacing: float) -> None:
    asked = question()
    region = finish(knob_region(asked, spacing))
    places, field = every_voxel(region), region.field
    shape = " x ".join(map(str, field.margin.shape))
    print(
        f"{shape} voxels of {field.spacing_mm:g} mm, {len(asked.terms)} terms, {region.volume_litres:.2f} litres"
    )
    ours = timed("region", lambda: finish(knob_region(asked, spacing)))
    timed("sides", lambda: sides(region))
    timed("nearest", lambda: nearest(region))
    bare = KnobQuestion(
        arms=asked.arms, gears=asked.gears, grips_mm=asked.grips_mm, present_mm=asked.present_mm
    )
    timed("region of the arms alone", lambda: finish(knob_region(bare, spacing)))

    start = time.perf_counter()
    at_once = np.concatenate(
        [asked.margins(some) for some in np.array_split(places, len(places) // 20_000 + 1)]
    )
    whole = 1000.0 * (time.perf_counter() - start)
    np.testing.assert_allclose(field.margin.ravel(), np.maximum(at_once, -field.deep_mm), atol=1e-6)
    print(f"every term over every voxel: {whole:.0f} ms, {whole / ours:.1f} times as long")

    strewn = np.random.default_rng(1).choice(len(places), ONE_BY_ONE, replace=False)
    start = time.perf_counter()
    looped = one_by_one(asked, places[strewn])
    loop = 1000.0 * (time.perf_counter() - start) * len(places) / ONE_BY_ONE
    np.testing.assert_allclose(looped, at_once[strewn], atol=1e-6)
    print(f"voxel by voxel: {loop / 1000.0:.0f} s, {loop / ours:.0f} times as long")


if __name__ == "__main__":
    main(float(sys.argv[1]) if len(sys.argv) > 1 else 10.0)
