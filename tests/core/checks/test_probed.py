"""A hole that nobody scanned, and a place in it that was measured by hand."""

from typing import Any

import numpy as np
import pytest

from core.small_case import level_floor, raw_scan
from floorpan import edits
from floorpan.checks import Evaluator, Finding
from floorpan.derive import Bench
from floorpan.frames import Pose
from floorpan.geometry.mesh import Mesh
from floorpan.items import Place, vessel_of
from floorpan.layout import Layout, ScanRef
from floorpan.progress import finish

CELL_MM = 35.0
HIGH_MM = 60.0


def floor_with_a_hole(half_mm: float = 120.0) -> Mesh:
    """A level floor at height nought with a square hole about its middle."""
    mesh = level_floor()
    middle = np.abs(mesh.points[mesh.faces].mean(axis=1)[:, :2]).max(axis=1)
    return mesh.kept(middle > half_mm)


def layout_over(raw: Any, pose: Pose, **probe: Any) -> Layout:
    """A can that stands HIGH_MM above the middle of the hole, and a probe where one is told."""
    ref = ScanRef(
        id="new", name="floor", sha256=raw.sha256, suffix=".ply", original_name="floor.ply", unit="mm"
    )
    layout = edits.set_carpet(edits.add_scan(Layout(title="Probed"), ref), 0.0)
    layout = edits.set_axes(layout, "scan-1", pose)
    x, y, z = pose.apply(np.array([0.0, 0.0, HIGH_MM]))
    place = Place(x_mm=float(x), y_mm=float(y), z_mm=float(z))
    layout, _ = edits.add(layout, vessel_of("can-355", "new", place=place))
    if probe:
        layout = edits.add_probe(layout, "scan-1", **probe)
    return edits.mark_absent(layout, "dash", absent=True)


def judged(raw: Any, layout: Layout) -> Finding:
    found = finish(Evaluator(Bench({raw.sha256: raw})).settle(layout))
    (one,) = [finding for finding in found if finding.check == "vessel-scan"]
    return one


RAW = raw_scan(floor_with_a_hole())
POSES = (Pose(), Pose.turned((0.0, 0.0, 1.0), 40.0).after(Pose(shift_mm=(100.0, -30.0, 12.0))))


@pytest.mark.parametrize("pose", POSES)
def test_over_a_hole_a_probe_as_wide_as_what_stands_there_tells_the_gap(pose: Pose) -> None:
    assert judged(RAW, layout_over(RAW, pose)).verdict == "unseen"
    # The floor was measured 5 mm under the level of its rim, good to 1 mm. A disc narrower than the can leaves the
    # hole round it unseen, and that is nearer than the disc.
    measured = {"at_mm": (0.0, 0.0, 0.0), "offset_mm": (0.0, 0.0, -5.0), "u_mm": 1.0}
    assert judged(RAW, layout_over(RAW, pose, **measured, overrides_radius_mm=15.0)).verdict == "unseen"
    told = judged(RAW, layout_over(RAW, pose, **measured, overrides_radius_mm=60.0))
    assert told.verdict != "unseen"
    assert told.value is not None
    # Closed form: the can's base over the disc.
    assert told.value == pytest.approx(HIGH_MM + 5.0, abs=1e-6)
    parts = {doubt.name: (doubt.standard, doubt.bound) for doubt in told.doubts}
    assert parts["probe"] == (0.5, 0.0)
    assert "scan" not in parts
    # A disc of 60 mm may rise a tenth of its radius where its slope was not looked at.
    assert parts["slope under the probe"] == (0.0, pytest.approx(6.0))


def test_a_probe_that_stands_out_of_the_scan_is_believed() -> None:
    """Something the scanner missed: the gap is to the probe, not to the floor under it."""
    raw = raw_scan(level_floor())
    before = judged(raw, layout_over(raw, Pose()))
    assert before.value == pytest.approx(HIGH_MM, abs=1e-6)
    stud = {"at_mm": (10.0, 0.0, 0.0), "offset_mm": (0.0, 0.0, 22.0), "u_mm": 1.0, "kind": "edge"}
    told = judged(raw, layout_over(raw, Pose(), **stud))
    assert told.value == pytest.approx(HIGH_MM - 22.0, abs=1e-6)
    assert told.at_mm is not None
    assert told.at_mm[1] == pytest.approx((10.0, 0.0, 22.0), abs=1e-6)


def test_a_probe_far_below_does_not_hide_the_scan() -> None:
    raw = raw_scan(level_floor())
    deep = {"at_mm": (400.0, 0.0, 0.0), "offset_mm": (0.0, 0.0, -3.0), "u_mm": 1.0}
    assert judged(raw, layout_over(raw, Pose(), **deep)).value == pytest.approx(HIGH_MM, abs=1e-6)
