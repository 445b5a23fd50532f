"""How long the state matrix and a dragged shifter take here, from 0.25 to 4 million triangles, beside the plain way.

    python tests/bench/bench_engine.py [triangles ...]

A made-up car on a rough floor: eight places in the gate, hand, handbrake, two seats, two vessels in wells, a console.

Matrix: every pair in every state, stops and ways, with the scan set into car axes and cut, and no tile built; then
the same again with all tiles there. Beside it the plain way: one tree over the whole scan, every gap from nothing and
every way looked at so closely that nothing moves over 0.1 mm between two looks. Its ways take so long that a
sample of them is timed and multiplied.

Dragging: the shifter moved by a little, all live findings told, with what is made ready and set aside as the window
does it before a drag. Then at the same places every live reading judged from nothing against one tree. Both say the
same, which is checked. Times in ms of the processor, which a
busy neighbour stretches less than the clock's; the ratio of one run is what counts.
"""

import dataclasses
import gc
import math
import os
import statistics
import sys
import time
from collections.abc import Iterable, Iterator
from pathlib import Path

import numpy as np

sys.path.insert(0, str(Path(__file__).resolve().parent.parent))

from core.geometry.rough_floor import rough_floor
from core.small_case import raw_scan
from floorpan import edits
from floorpan.checks import Evaluator, Finding
from floorpan.checks.catalogue import CHECKS
from floorpan.checks.check import LIVE, TIERS, Check, Reading
from floorpan.checks.finding import rank
from floorpan.checks.gaps import Between, ToArea
from floorpan.console import Envelope, Station
from floorpan.derive import AreaSurface, Bench, Motion, Scene
from floorpan.driver import Person
from floorpan.frames import Pose
from floorpan.geometry.clearance import body_gap
from floorpan.geometry.surface import Surface
from floorpan.items import CupHolder, Handbrake, Place, Seat, Shifter, vessel_of
from floorpan.items.states import State
from floorpan.layout import Layout, ScanRef
from floorpan.progress import finish
from floorpan.scan import RawScan

SIZES = (250_000, 1_000_000, 4_000_000)
STEPS, BOTH = 200, 200
LOOK_MM = 0.1
WAYS_TIMED = 2
# The hand in the rear gears comes as near to the vessels as is wanted.
VESSELS_MM = 740.0

Judged = tuple[Check, Reading]


def car(raw: RawScan) -> Layout:
    """One of everything on the rough floor, the driver on the left."""
    layout = Layout(title="Rough")
    ref = ScanRef(
        id="new", name="floor", sha256=raw.sha256, suffix=".ply", original_name="floor.ply", unit="mm"
    )
    layout = edits.set_axes(edits.add_scan(layout, ref), "scan-1", Pose())
    for y in (-370.0, 370.0):
        layout, seat = edits.add(
            layout, Seat(id="new", place=Place(x_mm=950.0, y_mm=y, z_mm=300.0), stand_mm=280.0)
        )
        if y < 0.0:
            layout, person = edits.add_person(layout, Person(id="new", seat_id=seat))
            layout = edits.change_person(layout, person, notches_used=(4, 8))
    layout, _ = edits.add(layout, Shifter(id="new", gears=6, place=Place(x_mm=620.0, z_mm=182.0)))
    layout, _ = edits.add(layout, Handbrake(id="new", place=Place(x_mm=1060.0, y_mm=60.0, z_mm=182.0)))
    for key, y in (("can-355", 0.0), ("slim-can-250", 85.0)):
        layout, holder = edits.add(
            layout, CupHolder(id="new", place=Place(x_mm=VESSELS_MM, y_mm=y, z_mm=230.0))
        )
        layout, _ = edits.add(layout, vessel_of(key, "new", stands_in=holder))
    stations = (
        Station(x_mm=0.0, width_mm=180.0, height_mm=40.0),
        Station(x_mm=500.0, width_mm=200.0, height_mm=60.0),
    )
    layout, _ = edits.add(layout, Envelope(id="new", place=Place(x_mm=450.0, z_mm=184.0), stations=stations))
    return edits.mark_absent(layout, "dash", absent=True)


def readings(scene: Scene, *tiers: str) -> list[Judged]:
    return [(check, reading) for check in CHECKS if check.tier in tiers for reading in check.readings(scene)]


def of_gaps(held: Iterable[Judged], *, ways: bool) -> list[Judged]:
    return [
        (check, reading)
        for check, reading in held
        if isinstance(check.judge, ToArea | Between) and isinstance(reading.inputs[0], Motion) == ways
    ]


class Plainly:
    """The plain way: one tree over each area, nothing remembered."""

    def __init__(self, scene: Scene) -> None:
        start = time.process_time()
        self.areas = {
            area.id: dataclasses.replace(area, surface=Surface(area.surface.mesh, tile_triangles=10**9))
            for area in scene.areas()
        }
        for area in self.areas.values():
            while area.surface.build_next():
                pass
            _ = area.surface.facing
        self.build_ms = (time.process_time() - start) * 1e3

    def judge(self, check: Check, reading: Reading) -> Finding:
        inputs = tuple(self.areas[one.id] if isinstance(one, AreaSurface) else one for one in reading.inputs)
        return check.judge(Reading(reading.subjects, reading.state, inputs))

    def way(self, reading: Reading) -> float:
        """The least gap of a way by many looks."""
        moving, other = reading.inputs[0], reading.inputs[1]
        assert isinstance(moving, Motion)
        least = math.inf
        for share in np.linspace(0.0, 1.0, math.ceil(moving.travel_mm / LOOK_MM) + 1).tolist():
            body = moving.at(share)
            if isinstance(other, AreaSurface):
                least = min(least, self.areas[other.id].surface.gap(body).distance_mm)
            elif isinstance(other, tuple):
                least = min(least, body_gap(body, other).distance_mm)
        return least


def matrix(bench: Bench, layout: Layout) -> tuple[float, float, float]:
    """The matrix with no tile built, with every tile built, and the plain way [ms]."""
    assert not any(area.surface.built for area in bench.scene(layout).areas())
    cold = took(lambda: finish(Evaluator(bench).settle(layout)))
    built = [f"{100 * area.surface.built:.0f} %" for area in bench.scene(layout).areas()]
    finish(Evaluator(bench).make_ready(layout))
    warm = took(lambda: finish(Evaluator(bench).settle(layout)))
    scene = bench.scene(layout)
    every = readings(scene, *TIERS)
    standing, ways = of_gaps(every, ways=False), of_gaps(every, ways=True)
    plainly = Plainly(scene)
    stood = took(lambda: [plainly.judge(*one) for one in standing])
    some = ways[:: max(len(ways) // WAYS_TIMED, 1)]
    moved = took(lambda: [plainly.way(reading) for _, reading in some]) * len(ways) / len(some)
    plain = plainly.build_ms + stood + moved
    print(f"  {len(every)} readings: {len(standing)} gaps standing, {len(ways)} on ways; tiles built {built}")
    print(f"  matrix, no tile built {cold:8.0f} ms; all tiles built {warm:8.0f} ms")
    print(
        f"  plainly {plain:8.0f} ms (tree {plainly.build_ms:.0f}, standing {stood:.0f}, ways {moved:.0f}):"
        f" {plain / cold:.1f} times as long"
    )
    return cold, warm, plain


def places(layout: Layout) -> Iterator[Layout]:
    random, at = np.random.default_rng(1), np.array([620.0, 0.0, 182.0])
    for _ in range(STEPS):
        at = at + random.normal(0.0, 1.0, 3) * [1.0, 1.0, 0.2]
        yield edits.move(layout, "shifter-1", x_mm=float(at[0]), y_mm=float(at[1]), z_mm=float(at[2]))


def dragged(bench: Bench, layout: Layout) -> tuple[float, float]:
    """The shifter dragged, live and the plain way at some of the places: p95 of a step [ms]."""
    evaluator = Evaluator(bench)
    finish(evaluator.settle(layout))
    finish(evaluator.make_ready(layout))
    # A bench of its own, so that it makes its bodies itself.
    other = Bench(bench.store)
    finish(other.make_floors(layout))
    plainly = Plainly(other.scene(layout))
    live, plain, said = [], [], []
    gc.freeze()
    for moved in places(layout):
        start = time.process_time()
        said.append(evaluator.live(moved, budget_s=1e6, clock=time.perf_counter, looked_at=_in_third))
        live.append((time.process_time() - start) * 1e3)
    gc.unfreeze()
    for number, moved in enumerate(places(layout)):
        if number % (STEPS // BOTH):
            continue
        start = time.process_time()
        same = [plainly.judge(*one) for one in readings(other.scene(moved), *LIVE) if _touched(one)]
        plain.append((time.process_time() - start) * 1e3)
        _alike(said[number], same)
    print(f"  a step dragged live: {_told(live)}")
    print(f"  the same plainly:    {_told(plain)}; {_p95(plain) / _p95(live):.1f} times as long at p95")
    return _p95(live), _p95(plain)


def _in_third(state: State) -> bool:
    return dict(state).get("shifter-1.gear", "3") == "3"


def _touched(one: Judged) -> bool:
    owners = {subject.partition(".")[0] for subject in one[1].subjects}
    return not owners.isdisjoint({"shifter-1", "driver-1"})


def _alike(told: Iterable[Finding], plainly: Iterable[Finding]) -> None:
    """The same verdicts, the same worst, every measured value equal and every proven one no better than it is."""
    by_id = {finding.id: finding for finding in told}
    every = list(plainly)
    for finding in every:
        live = by_id[finding.id]
        assert not live.stale, finding.id
        assert live.verdict == finding.verdict, finding.id
        if finding.value is None or live.value is None:
            continue
        if not live.at_least:
            assert abs(live.value - finding.value) < 1e-6, finding.id
        elif finding.limit.sense == "at_least":
            assert live.value < finding.value + 1e-6, finding.id
    worst = min((by_id[finding.id] for finding in every), key=rank)
    assert not worst.at_least
    assert rank(worst)[:2] == min(rank(finding)[:2] for finding in every)


def _p95(times: list[float]) -> float:
    return sorted(times)[int(0.95 * len(times))]


def _told(times: list[float]) -> str:
    return f"median {statistics.median(times):6.1f}, p95 {_p95(times):6.1f} ms over {len(times)}"


def took(work: object) -> float:
    assert callable(work)
    start = time.process_time()
    work()
    return (time.process_time() - start) * 1e3


def main() -> None:
    sizes = [int(one) for one in sys.argv[1:]] or list(SIZES)
    table = []
    for size in sizes:
        raw = raw_scan(rough_floor(size))
        layout, bench = car(raw), Bench({raw.sha256: raw})
        ready = took(lambda bench=bench, layout=layout: finish(bench.make_floors(layout)))
        load = os.getloadavg()[0]
        print(f"{len(raw.mesh.faces)} triangles; made ready in {ready:.0f} ms; load {load:.1f}", flush=True)
        cold, warm, plain = matrix(bench, layout)
        live, naive = dragged(bench, layout)
        table.append((len(raw.mesh.faces), cold, warm, plain, live, naive))
    print("\ntriangles   matrix cold   warm   plainly (ms)     a step p95   plainly (ms)")
    for triangles, cold, warm, plain, live, naive in table:
        print(f"{triangles:9d} {cold:13.0f} {warm:6.0f} {plain:14.0f} {live:14.1f} {naive:14.1f}")
    first = table[0]
    for one in table[1:]:
        grown = [now / then for now, then in zip(one, first, strict=True)]
        print(f"from {first[0]} to {one[0]}, times: " + "  ".join(f"{factor:.2f}" for factor in grown))


if __name__ == "__main__":
    main()
