"""From a read file to the mesh of a placed part: welded, in mm, standing on its own origin, its faults told."""

from dataclasses import dataclass

import numpy as np

from floorpan.errors import NoSurface, UnreadableScan
from floorpan.frames import Vector
from floorpan.geometry.edges import edges, islands
from floorpan.geometry.mesh import Floats, Mesh
from floorpan.geometry.mesh_solids import is_closed
from floorpan.geometry.weld import weld
from floorpan.progress import Step, Work
from floorpan.scan.quality import in_mm
from floorpan.scan.read import RawScan
from floorpan.units import show_number

MOST_TRIANGLES = 300_000
"""More make every gap of a placed part slow, and say nothing that metal is cut by; common practice, no source."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class PartMesh:
    """A part's mesh.

    mesh   : welded, mm, the middle of its box's underside at the origin
    closed : whether it is closed, so that it is known what lies inside
    pieces : how many that do not hang together
    open_edges : how many edges have one face only
    collapsed  : how many triangles had two corners in one place
    """

    mesh: Mesh
    closed: bool
    pieces: int
    open_edges: int
    collapsed: int


def part_mesh(raw: RawScan, unit: str) -> Work[PartMesh]:
    """Raises NoSurface for points without triangles or triangles without area, UnreadableScan for too many of them,
    BadValue for an unknown unit."""
    if raw.points_only:
        raise NoSurface(
            "part-points-only",
            "This file holds points without triangles: there is no surface to measure to.",
            "Export the part as a mesh: STL, PLY, OBJ or 3MF.",
        )
    if len(raw.mesh.faces) > MOST_TRIANGLES:
        raise UnreadableScan(
            "part-too-fine",
            f"This mesh has {show_number(len(raw.mesh.faces), 0)} triangles; a part has "
            f"{show_number(MOST_TRIANGLES, 0)} at most.",
            "Export it coarser, or read it as a scan.",
            triangles=len(raw.mesh.faces),
        )
    yield Step(0.2, "Joining points")
    welded = weld(in_mm(raw, unit))
    collapsed = int(np.count_nonzero(welded.collapsed))
    mesh = welded.mesh.kept(~welded.collapsed) if collapsed else welded.mesh
    if not len(mesh.faces):
        raise NoSurface("part-no-area", "No triangle of this mesh has an area.", "Export the part again.")
    mesh = Mesh(mesh.points - foot(mesh.bounds), mesh.faces)
    yield Step(0.6, "Looking for open edges")
    found = edges(mesh)
    yield Step(1.0, "Ready")
    return PartMesh(
        mesh=mesh,
        closed=is_closed(mesh),
        pieces=int(islands(mesh).max(initial=-1)) + 1,
        open_edges=int(np.count_nonzero(found.uses == 1)),
        collapsed=collapsed,
    )


def foot(bounds: Floats) -> Floats:
    """The middle (3,) of the underside of a box (2, 3)."""
    low, high = bounds
    middle: Floats = np.array([(low[0] + high[0]) / 2, (low[1] + high[1]) / 2, low[2]])
    return middle


def sides_in_file(raw: RawScan) -> Vector:
    """The sides of the box of what is used of a file, in its own unit."""
    x, y, z = (float(side) for side in np.ptp(raw.mesh.bounds, axis=0))
    return x, y, z
