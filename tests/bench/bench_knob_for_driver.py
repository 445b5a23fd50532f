"""How long it takes here to tell where the sample car's knob should be: the whole answer in voxels of 10 mm.

    python tests/bench/bench_knob_for_driver.py [rounds]

Beside it stands the obvious way: every voxel of the same box judged through every gear, at every notch by the
reach itself and by the exact distance to the scan; timed on a few voxels and multiplied. The load of the machine is
in all times; the least and the middle of several rounds are shown, and the processor's own time beside them.
"""

import itertools
import statistics
import sys
import time
from pathlib import Path

import numpy as np

sys.path.insert(0, str(Path(__file__).parent.parent))

from core.sample_case import sample_case
from floorpan.advice.knob_for_driver import LOOKED_AT_MM, SPACING_MM, where_the_knob_should_be
from floorpan.derive import Scene, knob_in_neutral, reach_from, sitting_in
from floorpan.items import Shifter
from floorpan.items.shifter import GEAR
from floorpan.layout import record_of
from floorpan.progress import finish

FEW = 40


def voxel_by_voxel(scene: Scene, voxels: int) -> float:
    """Seconds for so many voxels, judged in the obvious way."""
    shifter = scene.layout.of(Shifter)[0]
    record, person = record_of(shifter), scene.drivers()[0]
    seat = scene.seat_of(person)
    assert seat is not None
    present, gears = np.array(knob_in_neutral(shifter)), record.axes(shifter)[0].stops
    off = np.array([record.grips(shifter, {GEAR: gear})[0].at_mm for gear in gears]) - present
    draw = np.random.default_rng(1)
    start = time.perf_counter()
    for place in present + draw.uniform(-LOOKED_AT_MM, LOOKED_AT_MM, (FEW, 3)):
        for notch, grip in itertools.product(person.notches_used, place + off):
            x, y, z = (float(value) for value in grip)
            reach_from(sitting_in(person, seat, notch), "tight", scene.hand_side(), (x, y, z))
        for area in scene.areas():
            area.surface.signed(place + off)
    return (time.perf_counter() - start) * voxels / FEW


def main(rounds: int) -> None:
    case = sample_case(1)
    bench = case.bench()
    finish(bench.make_floors(case.layout))
    scene = bench.scene(case.layout)
    walls, own = [], []
    for _ in range(rounds):
        wall, processor = time.perf_counter(), time.process_time()
        advice = finish(where_the_knob_should_be(scene))
        walls.append(time.perf_counter() - wall)
        own.append(time.process_time() - processor)
    assert advice is not None
    print(
        f"whole answer: {min(walls):.2f} s at least, {statistics.median(walls):.2f} s in the middle, ", end=""
    )
    print(f"{min(own):.2f} s of the processor")
    for side in advice.sides:
        print(f"  {side.name}: {100.0 * side.share:.1f} %")
    for area in scene.areas():
        # Trees over the scan are built before the obvious way is timed.
        area.surface.signed(np.zeros((1, 3)))
    voxels = round(2.0 * LOOKED_AT_MM / SPACING_MM) ** 3
    obvious = voxel_by_voxel(scene, voxels)
    print(f"voxel by voxel: {obvious:.0f} s for {voxels:,}, {obvious / min(walls):,.0f} times as long")


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 5)
