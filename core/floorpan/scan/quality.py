"""What is in a scan, in numbers."""

from dataclasses import dataclass

import numpy as np

from floorpan.frames import Vector
from floorpan.geometry.edges import Edges, edges, islands
from floorpan.geometry.holes import Unseen, unseen_patches
from floorpan.geometry.mesh import Mesh
from floorpan.geometry.near import vector
from floorpan.geometry.noise import noise_sigma_mm
from floorpan.geometry.weld import weld
from floorpan.scan.read import RawScan
from floorpan.units import mm_per


@dataclass(frozen=True, slots=True, kw_only=True)
class ScanFacts:
    """A scan in numbers, lengths in mm.

    holes, holes_mm2, longest_hole_mm : how many, their areas together, the longest span of any
    noise_mm : one sigma of roughness
    collapsed : triangles that name a point twice once equal points are joined
    flipped_edges : inner edges that both faces run the same way, as where a patch is inside out
    """

    triangles: int
    points: int
    size_mm: Vector
    islands: int
    holes: int
    holes_mm2: float
    longest_hole_mm: float
    noise_mm: float
    non_manifold_edges: int
    flipped_edges: int
    collapsed: int
    dropped: dict[str, int]


def describe(raw: RawScan, unit: str | None = None) -> ScanFacts:
    """Facts of a scan as read; `unit` None takes the one given, or the one proposed."""
    welded = weld(in_mm(raw, unit or raw.unit_given or raw.proposal.unit))
    found = edges(welded.mesh)
    unseen = unseen_patches(welded.mesh, found)
    collapsed = int(np.count_nonzero(welded.collapsed))
    return facts_of(welded.mesh, found, unseen, noise_sigma_mm(welded.mesh), collapsed, raw.dropped)


def in_mm(raw: RawScan, unit: str) -> Mesh:
    """The mesh of a scan with its lengths turned into mm."""
    factor = mm_per(unit)
    return raw.mesh if factor == 1.0 else Mesh(raw.mesh.points * factor, raw.mesh.faces)


def facts_of(
    mesh: Mesh, found: Edges, unseen: Unseen, noise_mm: float, collapsed: int, dropped: dict[str, int]
) -> ScanFacts:
    """Facts from what was worked out already for a welded mesh [mm]."""
    return ScanFacts(
        triangles=len(mesh.faces),
        points=len(mesh.points),
        size_mm=vector(np.ptp(mesh.bounds, axis=0)),
        islands=int(islands(mesh).max(initial=-1)) + 1,
        holes=len(unseen.holes),
        holes_mm2=float(sum(hole.area_mm2 for hole in unseen.holes)),
        longest_hole_mm=max((hole.longest_mm for hole in unseen.holes), default=0.0),
        noise_mm=noise_mm,
        non_manifold_edges=found.non_manifold,
        flipped_edges=found.flipped,
        collapsed=collapsed,
        dropped=dict(dropped),
    )
