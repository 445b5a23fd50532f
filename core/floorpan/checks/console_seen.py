"""How much of the floor under the console the cropped scan saw, and what beside it the shell meets."""

from collections.abc import Iterator

import numpy as np

from floorpan.checks.check import Check, Item, Reading
from floorpan.checks.finding import Doubt, Finding, combined, verdict_of
from floorpan.checks.gaps import ToArea
from floorpan.checks.pairs import limit_for, to_area
from floorpan.console import Envelope, footprint
from floorpan.derive import Floor, Scene
from floorpan.geometry.heights import HeightGrid
from floorpan.geometry.outlines import inside_outline
from floorpan.items.states import NOTHING_MOVES
from floorpan.limits import Limit

CELL_MM = 5.0


def _reads(scene: Scene) -> Iterator[Reading]:
    if scene.floor is None:
        return
    for console in scene.layout.consoles:
        inputs = (console, scene.floor, limit_for(scene, "console-seen"))
        yield Reading((console.id, scene.floor.scan.id), NOTHING_MOVES, inputs)


def _judge(reading: Reading) -> Finding:
    console, floor, wanted = reading.inputs
    assert isinstance(console, Envelope)
    assert isinstance(floor, Floor)
    assert isinstance(wanted, Limit)
    share, cells = seen_share(console, floor)
    # A cell at the footprint's edge may fall either way: half the edge cells over all cells.
    doubts = (Doubt("grid", standard=100.0 * 0.5 / max(cells, 1) ** 0.5 / 2),)
    u = combined(doubts)
    return Finding(
        check="console-seen",
        subjects=reading.subjects,
        state=reading.state,
        verdict="unseen" if share == 0.0 else verdict_of(share, u, wanted, is_gap=False),
        value=None if share == 0.0 else share,
        uncertainty=u,
        doubts=doubts,
        limit=wanted,
        is_gap=False,
        met="floor under the console",
    )


def seen_share(console: Envelope, floor: Floor) -> tuple[float, int]:
    """Percent of the footprint's cells of 5 mm with scanned floor in them, and how many cells it has."""
    outline = footprint(console)
    low, high = outline.min(axis=0), outline.max(axis=0)
    grid = HeightGrid.over(floor.mesh, low, high, CELL_MM)
    x, y = grid.centres()
    inside = inside_outline(outline, np.column_stack([x.ravel(), y.ravel()])).reshape(x.shape)
    cells = int(inside.sum())
    if not cells:
        return 0.0, 0
    seen = np.isfinite(grid.z) & inside
    return 100.0 * float(seen.sum()) / cells, cells


def _to_scan(scene: Scene) -> Iterator[Item]:
    for console in scene.layout.consoles:
        for area in scene.areas():
            if not area.level:
                yield from to_area(scene, console.id, area, "console-scan", moving=False)


CHECKS = (
    Check("console-seen", "settled", _reads, _judge),
    Check("console-scan", "live", _to_scan, ToArea("console-scan")),
)
