"""Named parts of a scan that overlap: which keeps the triangles. Counted on a level grid, by hand."""

import numpy as np
import pytest

from core.small_case import level_floor, raw_scan, small_layout
from floorpan import edits
from floorpan.derive import Bench
from floorpan.layout import Box, Layout
from floorpan.progress import finish

RAW = raw_scan(level_floor(cells=28))
SEAT = Box(least_mm=(0.0, -600.0, -10.0), greatest_mm=(600.0, 0.0, 10.0))
RIM = Box(least_mm=(-200.0, -400.0, -10.0), greatest_mm=(200.0, -100.0, 10.0))


def faces(layout: Layout) -> dict[str, int]:
    bench = Bench({RAW.sha256: RAW})
    finish(bench.prepare(layout.scans[0]))
    floor = bench.floor(layout)
    assert floor is not None
    return {area.kind: len(area.surface.mesh.faces) for area in floor.areas}


def inside(*boxes: Box) -> int:
    """Triangles whose middle lies in every box."""
    middles = RAW.mesh.points[RAW.mesh.faces].mean(axis=1)
    within = [np.all((middles >= box.least_mm) & (middles <= box.greatest_mm), axis=1) for box in boxes]
    return int(np.all(within, axis=0).sum())


@pytest.mark.parametrize("first", ["seat", "wheel rim"])
def test_what_a_placed_thing_stands_for_yields_to_another_part(first: str) -> None:
    layout = small_layout(RAW)
    for kind in (first, "wheel rim" if first == "seat" else "seat"):
        box, stands_for = (SEAT, "seat-1") if kind == "seat" else (RIM, "")
        layout = edits.add_area(layout, "scan-1", kind, box, stands_for)
    found = faces(layout)
    assert "seat" not in found
    assert found["wheel rim"] == inside(RIM) > inside(RIM, SEAT) > 0
    assert sum(found.values()) == len(RAW.mesh.faces) - inside(SEAT) + inside(RIM, SEAT)


def test_of_two_parts_that_count_the_later_one_keeps_them() -> None:
    layout = edits.add_area(small_layout(RAW), "scan-1", "seat", SEAT)
    found = faces(edits.add_area(layout, "scan-1", "wheel rim", RIM))
    assert found["wheel rim"] == inside(RIM)
    assert found["seat"] == inside(SEAT) - inside(RIM, SEAT)
