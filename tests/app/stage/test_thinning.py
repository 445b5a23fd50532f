"""Thinned pictures: what is drawn, what is said of it, and that nothing is picked or measured on it."""

import subprocess
import time
from typing import Any

import numpy as np
import pytest
from PySide6.QtWidgets import QApplication

from app.stage.bench import PATIENCE_S
from app.stage.conftest import Open
from core.small_case import level_floor, raw_scan
from floorpan import edits
from floorpan.frames import Pose
from floorpan.geometry.deviation import deviation
from floorpan.geometry.mesh import Mesh
from floorpan.layout import Layout, ScanRef
from floorpan.progress import finish
from floorpan_app.stage import thinning
from floorpan_app.stage.thinning import NotThinned, thinned, thinned_to


def bumpy() -> Mesh:
    """The level floor with waves of 3 mm."""
    flat = level_floor(cells=60)
    points = flat.points.copy()
    points[:, 2] = 3.0 * np.sin(points[:, 0] / 40.0) * np.cos(points[:, 1] / 55.0)
    return Mesh(points, flat.faces)


def test_a_level_sheet_thinned_is_the_same_sheet() -> None:
    mesh = level_floor(cells=60)
    told: list[float] = []
    made = finish(thinned(mesh, 2000), lambda step: told.append(step.done))
    assert len(made.mesh.faces) <= 2000
    # Every triangle lies in the plane and the rim is kept: nothing strays.
    assert made.mesh.bounds == pytest.approx(mesh.bounds, abs=1e-3)
    assert made.deviation.worst_mm == pytest.approx(0.0, abs=1e-3)
    assert told == sorted(told)
    assert (made.before, made.after) == (7200, len(made.mesh.faces))


def test_to_a_distance_with_a_part_left_as_it_is() -> None:
    mesh = bumpy()
    untouched = mesh.points[mesh.faces].mean(axis=1)[:, 0] < -300.0
    told: list[float] = []
    made = finish(thinned_to(mesh, 1.0, untouched), lambda step: told.append(step.done))
    assert 0.0 < made.deviation.worst_mm <= 1.0
    assert np.count_nonzero(untouched) < made.after < 7200 / 2
    off = deviation(mesh, made.mesh)
    assert (off.worst_mm, off.where_mm) == (made.deviation.worst_mm, made.deviation.where_mm)
    rows = {tuple(sorted(map(tuple, three))) for three in made.mesh.points[made.mesh.faces].tolist()}
    assert {tuple(sorted(map(tuple, three))) for three in mesh.points[mesh.faces[untouched]].tolist()} <= rows
    assert told == sorted(told)


def test_stopped_it_leaves_no_process(monkeypatch: pytest.MonkeyPatch) -> None:
    started: list[subprocess.Popen[bytes]] = []
    plain = subprocess.Popen

    def noting(*given: Any, **named: Any) -> Any:
        child = plain(*given, **named)
        started.append(child)
        return child

    monkeypatch.setattr(thinning.subprocess, "Popen", noting)
    work = thinned(level_floor(), 100)
    while not started:
        next(work)
    work.close()
    assert started[0].poll() is not None


def test_a_process_that_fails_is_told_with_what_it_means(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(thinning.sys, "executable", "false")
    with pytest.raises(NotThinned, match="drawn whole"):
        finish(thinned(level_floor(), 100))


@pytest.mark.real_view
def test_a_big_scan_is_drawn_thinned_and_picked_whole(
    open_bench: Open, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(thinning, "MOST_TRIANGLES", 1500)
    raw = raw_scan(bumpy())
    ref = ScanRef(
        id="new", name="floor", sha256=raw.sha256, suffix=".ply", original_name="floor.ply", unit="mm"
    )
    layout = edits.set_axes(edits.add_scan(Layout(), ref), "scan-1", Pose())
    bench = open_bench(layout, {raw.sha256: raw})
    until = time.monotonic() + PATIENCE_S
    while not any("triangles" in hint for hint in bench.hints):
        QApplication.processEvents()
        time.sleep(0.005)
        assert time.monotonic() < until, "not thinned in time"
    said = next(hint for hint in bench.hints if "triangles" in hint)
    assert "of 7\u2009200 triangles" in said
    assert "Gaps are measured on all of them." in said
    drawn = bench.view.scene._things["scan-1"].parts[0].form.shape
    assert drawn.n_cells <= 1500
    # What is measured is whole.
    floor = bench.judging.bench.floor(bench.layout)
    assert floor is not None
    assert len(floor.mesh.faces) == 7200
    bench.desk.go_to("axes")
    bench.settle()
    bench.look((0.0, 0.0, 0.0), heading=90.0, rise=-89.9)
    bench.desk.use_tool("pick origin")
    at = bench.at((63.0, 0.0, 3.0))
    bench.click(at)
    (pick,) = bench.layout.scans[0].picks
    x, y, z = pick.at_mm
    # On the triangles of the scan, which follow the wave within half the square of a cell over its radius.
    wave = 3.0 * np.sin(x / 40.0) * np.cos(y / 55.0)
    assert z == pytest.approx(wave, abs=(1400.0 / 60.0) ** 2 / 8.0 * 3.0 / 40.0**2 + 0.2)
    seen = bench.view.pick(at.x(), at.y())
    assert seen is not None
    assert bench.stage.ground.exact(seen, bench.view.sight(at.x(), at.y())) == pytest.approx(pick.at_mm)
