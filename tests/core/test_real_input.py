"""The whole job on real input, in Python: new project, unit, axes, crop, place, check, report.

The cabin is a model of a real one, not a scan. The depth-camera files are real scans of a table with things on it: the
table serves as the floor. All from the shared data folder beside the repository; credits in `docs/credits.md`.
"""

from pathlib import Path

import igl
import numpy as np
import pytest
from pypdf import PdfReader

from floorpan import edits
from floorpan.advice import with_cures
from floorpan.checks import Evaluator, Finding
from floorpan.console import Envelope, Station
from floorpan.derive import Bench
from floorpan.driver import Person
from floorpan.errors import UnitNeeded
from floorpan.geometry.fit import fit_plane
from floorpan.geometry.mesh import Floats, Mesh
from floorpan.items import CupHolder, Place, Seat, Shifter, gate_table, vessel_of
from floorpan.layout import Box, Layout
from floorpan.progress import finish
from floorpan.project.folder import open_project, save
from floorpan.project.starting import start_project
from floorpan.project.store import ProjectStore
from floorpan.report.documents import write_report
from floorpan.report.gathering import gathering
from floorpan.scan.axes import AxisPick, fit_axes

SCANS = ("scans_depthcam/depthcam_three_cylinders.ply", "scans_depthcam/depthcam_stacked_boxes.ply")
CABIN = "car_interior/utv_b_no_cage_mm.ply"


def table_picks(points: Floats) -> tuple[AxisPick, ...]:
    """What a builder would pick on a table-top scan: four level points, two of a centre line, one in front, one above.

    The table is the plane that most points lie within 3 mm of, found by trying planes through three points.
    """
    random = np.random.default_rng(7)
    best, inside = 0, np.zeros(len(points), dtype=bool)
    for _ in range(400):
        three = points[random.choice(len(points), 3, replace=False)]
        normal = np.cross(three[1] - three[0], three[2] - three[0])
        if np.linalg.norm(normal) < 1e-6:
            continue
        near = np.abs((points - three[0]) @ (normal / np.linalg.norm(normal))) < 3.0
        if near.sum() > best:
            best, inside = int(near.sum()), near
    table = points[inside]
    plane = fit_plane(table)
    along, across = plane.axes[0], plane.axes[1]
    u, v = (table - plane.centre) @ along, (table - plane.centre) @ across

    def at(du: float, dv: float) -> tuple[float, float, float]:
        x, y, z = table[np.argmin((u - du) ** 2 + (v - dv) ** 2)]
        return float(x), float(y), float(z)

    to_camera = -plane.centre / np.linalg.norm(plane.centre)
    above = plane.centre + 300.0 * to_camera
    level = [AxisPick(id=letter, at_mm=at(du, dv)) for letter, du, dv in
             (("A", -150, -100), ("B", 150, -100), ("C", -150, 100), ("D", 150, 100))]  # fmt: skip
    centre = [
        AxisPick(id="E", at_mm=at(-150, 0), role="centre"),
        AxisPick(id="F", at_mm=at(150, 0), role="centre"),
    ]
    rest = [
        AxisPick(id="G", at_mm=at(-200, 0), role="front"),
        AxisPick(id="H", at_mm=(float(above[0]), float(above[1]), float(above[2])), role="above"),
        AxisPick(id="I", at_mm=at(0, 0), role="origin"),
    ]
    return (*level, *centre, *rest)


def placed(layout: Layout, floor_z: float, at: tuple[float, float]) -> Layout:
    """A seat with a driver, a shifter, a cup holder with a can, and a console on the floor."""
    x, y = at
    layout, seat = edits.add(
        layout,
        Seat(id="new", place=Place(x_mm=x + 350.0, y_mm=y - 350.0, z_mm=floor_z + 250.0), stands_on="none"),
    )
    layout, _ = edits.add_person(layout, Person(id="new", seat_id=seat))
    layout, _ = edits.add(layout, Shifter(id="new", place=Place(x_mm=x, y_mm=y, z_mm=floor_z)))
    layout, holder = edits.add(
        layout, CupHolder(id="new", place=Place(x_mm=x + 160.0, y_mm=y, z_mm=floor_z + 40.0))
    )
    layout, _ = edits.add(layout, vessel_of("can-355", "new", stands_in=holder))
    stations = (Station(x_mm=0, width_mm=150, height_mm=80), Station(x_mm=250, width_mm=160, height_mm=90))
    layout, _ = edits.add(
        layout, Envelope(id="new", place=Place(x_mm=x - 100.0, y_mm=y, z_mm=floor_z), stations=stations)
    )
    return edits.mark_absent(layout, "dash", absent=True)


def worked_out(folder: Path, layout: Layout) -> tuple[Bench, tuple[Finding, ...]]:
    """Save, reopen, judge; the reopened layout is the one that was saved."""
    project = save(open_project(folder), layout)
    project = open_project(folder)
    assert project.layout == layout
    bench = Bench(ProjectStore(project))
    evaluator = Evaluator(bench)
    findings = finish(evaluator.settle(layout))
    return bench, finish(with_cures(findings, layout, evaluator))


def distance_to(mesh: Mesh, at: Floats) -> float:
    """Least distance of a point to a mesh by a general library (libigl)."""
    squared, _, _ = igl.point_mesh_squared_distance(
        np.atleast_2d(at), mesh.points, mesh.faces.astype(np.int64)
    )
    return float(np.sqrt(np.atleast_1d(squared)[0]))


def check_report(tmp_path: Path, layout: Layout, bench: Bench, findings: tuple[Finding, ...]) -> None:
    paper = tmp_path / "fit report \u00fc.pdf"
    facts = finish(gathering(layout, bench, date="2026-11-25", version="test"))
    write_report(paper, layout, findings, facts)
    pages = PdfReader(paper).pages
    assert len(pages) > 3
    text = pages[0].extract_text()
    assert "Geometry check only" in text
    assert layout.title in text


@pytest.mark.parametrize("name", SCANS)
def test_a_real_depth_camera_scan_goes_the_whole_way(shared_data: Path, tmp_path: Path, name: str) -> None:
    source = shared_data / name
    folder = tmp_path / "Tisch \u6771 test.floorpan"
    with pytest.raises(UnitNeeded) as asked:
        finish(start_project(folder, source, None))
    assert asked.value.facts["proposed"] == "mm"
    layout = finish(start_project(folder, source, "mm", title="Tisch \u00e4")).layout
    store = ProjectStore(open_project(folder))
    points = store[layout.scans[0].sha256].mesh.points
    picks = table_picks(points)
    fit = fit_axes(picks)
    assert fit.rms_mm < 3.0
    layout = edits.set_axes(edits.set_picks(layout, "scan-1", picks), "scan-1", fit.pose)
    box = Box(frame=fit.pose.inverse(), least_mm=(-300.0, -250.0, -60.0), greatest_mm=(300.0, 250.0, 400.0))
    layout = placed(edits.crop(layout, "scan-1", box), 0.0, (-40.0, 0.0))
    bench, findings = worked_out(folder, layout)
    assert {f.check for f in findings} >= {"reach", "hand-scan", "seat-scan", "console-seen", "well-side"}
    assert not any(f.verdict == "pending" for f in findings)
    scene = bench.scene(layout)
    assert scene.floor is not None
    shifter = layout.thing("shifter-1")
    assert isinstance(shifter, Shifter)
    for place in gate_table(shifter):
        for finding in findings:
            if (
                finding.check == "hand-scan"
                and finding.state == (("shifter-1.gear", place.gear),)
                and finding.value
            ):
                grip = np.array(place.knob_mm)
                known = distance_to(scene.floor.mesh, grip) - 55.0 - layout.carpet_mm
                assert finding.value == pytest.approx(known, abs=1e-6)
    check_report(tmp_path, layout, bench, findings)


def test_a_modelled_cabin_goes_the_whole_way(shared_data: Path, tmp_path: Path) -> None:
    """Axes of the file: X across, Y along with the front at the low end, Z up."""
    folder = tmp_path / "cabin.floorpan"
    layout = finish(start_project(folder, shared_data / CABIN, "mm")).layout
    mesh = ProjectStore(open_project(folder))[layout.scans[0].sha256].mesh
    middle = float(mesh.bounds[:, 0].mean())
    picks = [
        AxisPick(id=letter, at_mm=(middle + x, y, 357.0), role="level")
        for letter, x, y in (("A", -300, -300), ("B", 300, -300), ("C", -300, 300), ("D", 300, 300))
    ]
    # Facing the low end of Y with Z up, the file's low X is to the right.
    picks += [
        AxisPick(id="E", at_mm=(middle + 300.0, 0.0, 357.0), role="pair", side="left", partner="F"),
        AxisPick(id="F", at_mm=(middle - 300.0, 0.0, 357.0), role="pair", side="right", partner="E"),
        AxisPick(id="G", at_mm=(middle, -300.0, 357.0), role="centre"),
        AxisPick(id="H", at_mm=(middle, 300.0, 357.0), role="centre"),
        AxisPick(id="I", at_mm=(middle, -500.0, 357.0), role="front"),
        AxisPick(id="J", at_mm=(middle, 0.0, 357.0), role="origin"),
    ]
    fit = fit_axes(picks)
    np.testing.assert_allclose(
        fit.pose.apply(np.array([middle, 100.0, 457.0])), [100.0, 0.0, 100.0], atol=1e-6
    )
    layout = edits.set_axes(edits.set_picks(layout, "scan-1", picks), "scan-1", fit.pose)
    box = Box(frame=fit.pose.inverse(), least_mm=(-500.0, -700.0, -100.0), greatest_mm=(700.0, 700.0, 900.0))
    layout = placed(edits.crop(layout, "scan-1", box), 20.0, (0.0, 0.0))
    bench, findings = worked_out(folder, layout)
    assert any(f.check == "hand-scan" for f in findings)
    assert any(f.verdict == "unseen" for f in findings)
    check_report(tmp_path, layout, bench, findings)


@pytest.mark.parametrize(
    ("name", "unit", "longest_mm"),
    [("scans_mesh/boot_metres.obj", "m", 307.0), ("scans_mesh/exhaust_part.stl", "in", 306.3)],
)
def test_the_unit_is_asked_for_with_the_likely_one(
    shared_data: Path, tmp_path: Path, name: str, unit: str, longest_mm: float
) -> None:
    """True sizes from the data's own description: a boot of 0.31 m, a pipe of 12.06 in."""
    with pytest.raises(UnitNeeded) as asked:
        finish(start_project(tmp_path / "a.floorpan", shared_data / name, None))
    assert asked.value.facts["proposed"] == unit
    assert not (tmp_path / "a.floorpan").exists()
    layout = finish(start_project(tmp_path / "b.floorpan", shared_data / name, unit)).layout
    bench = Bench(ProjectStore(open_project(tmp_path / "b.floorpan")))
    size = finish(bench.prepare(layout.scans[0])).facts.size_mm
    assert max(size) == pytest.approx(longest_mm, rel=0.01)
