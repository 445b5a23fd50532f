"""A level floor of one metre square with a shifter, a seat, a cup and a console: small enough to judge in a blink."""

import hashlib

import numpy as np

from floorpan import edits
from floorpan.console import Envelope, Station
from floorpan.driver import Person
from floorpan.frames import Pose
from floorpan.geometry.mesh import Mesh
from floorpan.items import CupHolder, Place, Seat, Shifter, vessel_of
from floorpan.layout import Layout, ScanRef
from floorpan.scan import RawScan
from floorpan.scan.unit import propose_unit

HALF_MM = 700.0


def level_floor(half_mm: float = HALF_MM, cells: int = 40, z_mm: float = 0.0) -> Mesh:
    """A level sheet about the origin, facing up."""
    at = np.linspace(-half_mm, half_mm, cells + 1)
    x, y = np.meshgrid(at, at, indexing="ij")
    points = np.column_stack([x.ravel(), y.ravel(), np.full(x.size, z_mm)])
    corner = np.arange(cells)[:, None] * (cells + 1) + np.arange(cells)[None, :]
    a, b, c, d = corner, corner + cells + 1, corner + cells + 2, corner + 1
    faces = np.vstack([np.stack([a, b, c], -1).reshape(-1, 3), np.stack([a, c, d], -1).reshape(-1, 3)])
    return Mesh(points, faces)


def raw_scan(mesh: Mesh) -> RawScan:
    """A mesh as if it had been read from a file in mm."""
    return RawScan(
        mesh=mesh,
        suffix=".ply",
        sha256=hashlib.sha256(mesh.points.tobytes() + mesh.faces.tobytes()).hexdigest(),
        unit_given="mm",
        proposal=propose_unit(float(np.ptp(mesh.points, axis=0).max())),
        dropped={},
        notes=(),
        colours=None,
    )


def small_layout(raw: RawScan, pose: Pose | None = None, *, carpet_mm: float = 0.0) -> Layout:
    """One of everything on a scan, set into car axes by `pose`."""
    layout = edits.set_carpet(Layout(title="Small"), carpet_mm)
    ref = ScanRef(
        id="new", name="floor", sha256=raw.sha256, suffix=".ply", original_name="floor.ply", unit="mm"
    )
    layout = edits.add_scan(layout, ref)
    layout = edits.set_axes(layout, "scan-1", pose or Pose())
    layout, seat = edits.add(
        layout, Seat(id="new", place=Place(x_mm=420.0, y_mm=-400.0, z_mm=260.0), stand_mm=260.0)
    )
    layout, _ = edits.add_person(layout, Person(id="new", seat_id=seat))
    layout, _ = edits.add(layout, Shifter(id="new"))
    layout, holder = edits.add(layout, CupHolder(id="new", place=Place(x_mm=200.0, y_mm=60.0, z_mm=60.0)))
    layout, _ = edits.add(layout, vessel_of("can-355", "new", stands_in=holder))
    stations = (
        Station(x_mm=0.0, width_mm=160.0, height_mm=90.0),
        Station(x_mm=300.0, width_mm=180.0, height_mm=110.0),
    )
    layout, _ = edits.add(layout, Envelope(id="new", place=Place(x_mm=-100.0), stations=stations))
    return edits.mark_absent(layout, "dash", absent=True)
