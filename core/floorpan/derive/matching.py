"""A scan laid onto the one it is joined to, by their surfaces."""

import numpy as np

from floorpan.derive.bench import Bench
from floorpan.derive.cropped import cropped
from floorpan.errors import BadValue
from floorpan.frames import Pose
from floorpan.geometry.mesh import Mesh
from floorpan.geometry.registration import SurfaceMatch, match_surfaces
from floorpan.layout import Layout, ScanRef
from floorpan.progress import Work, part
from floorpan.scan.area_shapes import owners
from floorpan.scan.joining import Joined, fit_targets, joined_by_surfaces
from floorpan.scan.prepare import flipped

# Common practice, no source: a join by targets picked by hand is nearer than this.
REACH_MM = 30.0
# Scans joined by so little of their places do not show the same things.
LEAST_SHARE = 0.02


def matching(
    bench: Bench, layout: Layout, scan_id: str, onto: str, areas: tuple[str, ...] = ()
) -> Work[tuple[Joined, SurfaceMatch]]:
    """The join of a scan to another by their surfaces, begun where it stands or where its targets put it.

    areas : ids of parts of the other scan that are matched on, () for everything
    Raises BadValue where nothing tells the beginning, where too little lies together, or where a move stays open.
    """
    scan, other = layout.scan(scan_id), layout.scan(onto)
    fit = fit_targets(scan.targets)
    start = _start(scan, other, fit.pose if fit is not None else None)
    there = yield from part(bench.prepare(other), 0.0, 0.2)
    here = yield from part(bench.prepare(scan), 0.2, 0.4)
    fixed = _surface(there.mesh, other)
    if areas:
        named = owners(fixed, [area.drawn() for area in other.areas])
        wanted = [number for number, area in enumerate(other.areas) if area.id in areas]
        fixed = fixed.kept(np.isin(named, wanted))
    moved = _surface(here.mesh, scan)
    match = None
    if len(fixed.faces) and len(moved.faces):
        match = yield from part(match_surfaces(fixed, moved, start, reach_mm=REACH_MM), 0.4, 1.0)
    if match is None or (not areas and match.places < LEAST_SHARE * match.offered):
        raise BadValue(
            "match-nothing",
            "Too little of these two scans lies together.",
            "Pick more common targets and join by them first, or match on other parts.",
        )
    return joined_by_surfaces(match, onto, areas, fit), match


def what_is_left(bench: Bench, layout: Layout, scan_id: str) -> Work[SurfaceMatch | None]:
    """How far a joined scan lies off the one it is joined to, place by place, as it stands; None for too few."""
    scan = layout.scan(scan_id)
    if scan.joined is None:
        return None
    other = layout.scan(scan.joined.onto)
    there = yield from part(bench.prepare(other), 0.0, 0.3)
    here = yield from part(bench.prepare(scan), 0.3, 0.6)
    fixed, moved = _surface(there.mesh, other), _surface(here.mesh, scan)
    if not len(fixed.faces) or not len(moved.faces):
        return None
    work = match_surfaces(fixed, moved, scan.joined.pose, reach_mm=REACH_MM, rounds=0)
    return (yield from part(work, 0.6, 1.0))


def _start(scan: ScanRef, other: ScanRef, by_targets: Pose | None) -> Pose:
    if scan.joined is not None and scan.joined.onto == other.id:
        return scan.joined.pose
    if by_targets is not None:
        return by_targets
    if scan.pose is not None and other.pose is not None:
        return other.pose.inverse().after(scan.pose)
    raise BadValue(
        "match-no-start",
        "Nothing tells how these two scans lie to each other.",
        "Pick three common targets first.",
    )


def _surface(mesh: Mesh, scan: ScanRef) -> Mesh:
    mesh = cropped(mesh, scan, cut=False)
    return flipped(mesh) if scan.flipped else mesh
