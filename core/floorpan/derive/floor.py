"""The floor: a prepared scan set into car axes, cropped with a margin, cut into named areas.

Gaps are measured on the crop plus 100 mm, so that a crop's edge is never taken for the end of the scan. What the
scan did not see (holes, the outer rim of the uncropped scan) is kept beside it as unseen surfaces.
"""

from collections.abc import Iterator
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from floorpan.derive.cropped import cropped
from floorpan.frames import Pose, Vector
from floorpan.geometry.columns import Columns
from floorpan.geometry.holes import Unseen
from floorpan.geometry.mesh import Mesh
from floorpan.geometry.noise import Roughness
from floorpan.geometry.surface import Surface
from floorpan.geometry.weld import weld
from floorpan.layout import Area, ScanRef
from floorpan.scan.area_shapes import NOBODY, owners, points_in
from floorpan.scan.axes import AxesFit
from floorpan.scan.bridges import Bridged
from floorpan.scan.joining import Joined
from floorpan.scan.prepare import ScanMesh, flipped
from floorpan.scan.probes import StandingProbe, overridden, standing, still_unseen
from floorpan.scan.seen_elsewhere import SeenElsewhere

CROP_MARGIN_MM = 100.0
NO_CARPET = frozenset({"dash", "seat", "handbrake", "wheel rim", "belt", "keep-out"})
REST = "scan"
# Such a scan shows the carpet itself: none comes on top.
CARPET_IN = frozenset({"carpet"})


@dataclass(frozen=True, slots=True, eq=False)
class AreaSurface:
    """A named part of the floor as an obstacle.

    id       : `scan-1.dash`, or `scan-1` for what nobody named
    kind     : what it is, in words
    level    : whether it is floor or tunnel, that a console stands over
    carpeted : whether loose carpet comes on top of what the scan shows
    unseen   : what nobody scanned of it: patches over holes and rims, None where all was seen
    probes   : places of it that were measured by hand; the scan round them is left out of the surface
    """

    id: str
    kind: str
    surface: Surface
    level: bool
    carpeted: bool
    unseen: Surface | None
    probes: tuple[StandingProbe, ...] = ()


@dataclass(frozen=True, slots=True, eq=False)
class Floor:
    """What checks measure to, in car axes.

    mesh     : the cropped floor with its margin, every area of it; no bridge, for nothing stands on one
    areas    : its parts as obstacles; what a placed thing stands for is left out
    patches  : patches over the holes of the uncropped scan, never metal
    columns  : the mesh, for asking how high the floor is at a place
    rough    : how rough the scan is, place by place
    centre_mm: middle of the points that set the axes (tilt turns about it)
    axes     : how well the axes fit, None where they were given without picks
    bridges  : what closes holes on the builder's word, as a surface; None where nothing does
    bridges_u_mm : how far a bridge may be off, half-width
    joined   : how the scan is joined to the one that has the axes, its centre in car axes; None for that one itself
    """

    scan: ScanRef
    mesh: Mesh
    areas: tuple[AreaSurface, ...]
    patches: Mesh
    columns: Columns
    rough: Roughness
    centre_mm: Vector
    axes: AxesFit | None
    bridges: Surface | None = None
    bridges_u_mm: float = 0.0
    joined: Joined | None = None

    def area(self, kind: str) -> AreaSurface | None:
        """The first area of a kind."""
        return next((area for area in self.areas if area.kind == kind), None)


@dataclass(frozen=True, slots=True, eq=False)
class Standing:
    """Where a scan's place in the car comes from.

    root : the scan that the axes were picked on; axes : how well they fit
    elsewhere : other scans that may have seen what this one missed
    """

    root: ScanRef
    axes: AxesFit | None
    elsewhere: tuple[SeenElsewhere, ...] = ()


def build_floor(
    scan: ScanRef, prepared: ScanMesh, bridged: Bridged, covered: frozenset[str], stands: Standing
) -> Floor:
    """The floor of a scan that is set into car axes.

    covered : ids of areas that a placed thing stands for
    """
    pose = scan.pose or Pose()
    whole = flipped(prepared.mesh) if scan.flipped else prepared.mesh
    mesh = cropped(whole, scan, margin_mm=CROP_MARGIN_MM, cut=False)
    bridges = _bridges(bridged, scan)
    # Gaps are measured to bridges too; feet, cut lines and heights know nothing of them.
    whole = weld(_beside(mesh, bridges)).mesh if len(bridges.faces) else mesh
    named = label_faces(whole, scan.areas, covered)
    car = whole.moved(pose.matrix())
    bare = car if whole is mesh else mesh.moved(pose.matrix())
    probes = tuple(standing(probe, pose) for probe in scan.probes)
    patches, rims = still_blind(bridged.unseen, pose, stands.elsewhere)
    unseen = _unseen(patches, rims)
    return Floor(
        scan=scan,
        mesh=bare,
        areas=tuple(_areas(scan, car, named, covered, _Unseen(unseen, scan.areas, pose, probes))),
        patches=patches.moved(pose.matrix()),
        columns=Columns(bare),
        rough=prepared.rough.moved(pose),
        centre_mm=_middle(stands.root, stands.root.pose or Pose()),
        axes=stands.axes,
        bridges=Surface(bridges.moved(pose.matrix()), floor=False) if len(bridges.faces) else None,
        bridges_u_mm=max(bridged.u_mm, default=0.0),
        joined=_in_car(scan.joined, stands.root),
    )


def _bridges(bridged: Bridged, scan: ScanRef) -> Mesh:
    """The faces that close holes, facing as the scan does, as far as its crop keeps them."""
    if not bridged.ids:
        return Mesh(np.zeros((0, 3)), np.zeros((0, 3), dtype=np.int32))
    laid = bridged.mesh.kept(bridged.bridged)
    return cropped(flipped(laid) if scan.flipped else laid, scan, margin_mm=CROP_MARGIN_MM, cut=False)


def _beside(mesh: Mesh, other: Mesh) -> Mesh:
    """Both meshes in one, the first one's points and faces first; nothing is joined."""
    return Mesh(
        np.vstack([mesh.points, other.points]),
        np.vstack([mesh.faces, other.faces + np.int32(len(mesh.points))]),
    )


def still_blind(
    unseen: Unseen, pose: Pose, elsewhere: tuple[SeenElsewhere, ...]
) -> tuple[Mesh, NDArray[np.float64]]:
    """Patches and rims, in the scan's own coordinates, of what neither the scan nor another one saw."""
    patches, rims = unseen.patches, unseen.rims
    for other in elsewhere:
        patches = patches.kept(~other.patches(patches.moved(pose.matrix())))
        # A rim is kept whole or not: both its ends and its middle must lie on the other scan.
        there = pose.apply(np.concatenate([rims[:, 0], rims[:, 1], rims.mean(axis=1)]))
        rims = rims[~other.places(there).reshape(3, -1).all(axis=0)]
    return patches, rims


def _in_car(joined: Joined | None, root: ScanRef) -> Joined | None:
    if joined is None or root.pose is None:
        return joined
    x, y, z = (float(value) for value in root.pose.apply(np.array(joined.centre_mm)))
    return replace(joined, centre_mm=(x, y, z))


def label_faces(
    mesh: Mesh, areas: tuple[Area, ...], covered: frozenset[str] = frozenset()
) -> NDArray[np.int32]:
    """Area number per face (M,) by its middle; -1 where no area reaches; a later area wins.

    covered : ids of areas that a placed thing stands for. They yield to every other: what is a wheel rim too is not
              left out with the seat whose box it reaches into.
    """
    if not areas:
        return np.full(len(mesh.faces), NOBODY, dtype=np.int32)
    return owners(mesh, [area.drawn() for area in areas], [area.id in covered for area in areas])


def _areas(
    scan: ScanRef, car: Mesh, named: NDArray[np.int32], covered: frozenset[str], unseen: "_Unseen"
) -> Iterator[AreaSurface]:
    # What a probe stands in for is told by the probe.
    told = ~overridden(car, unseen.probes)
    owners = unseen.owners(named)
    rest = (named == -1) & told
    if rest.any() or owners.get(-1):
        carpeted = scan.role not in CARPET_IN
        yield AreaSurface(
            scan.id, REST, Surface(car.kept(rest)), True, carpeted, unseen.of(-1), owners.get(-1, ())
        )
    for number, area in enumerate(scan.areas):
        mine = (named == number) & told
        if area.id not in covered and (mine.any() or owners.get(number)):
            level = area.kind not in NO_CARPET
            surface = Surface(car.kept(mine), floor=level)
            mine_too = owners.get(number, ())
            carpeted = level and scan.role not in CARPET_IN
            yield AreaSurface(area.id, area.kind, surface, level, carpeted, unseen.of(number), mine_too)


class _Unseen:
    """Which unseen triangles, and which probes, belong to which area: those that touch it; to the rest the others.

    What a probe vouches for is unseen no more.
    """

    def __init__(
        self, mesh: Mesh, areas: tuple[Area, ...], pose: Pose, probes: tuple[StandingProbe, ...]
    ) -> None:
        self.probes = probes
        self._areas, self._pose = areas, pose
        self._car = mesh.moved(pose.matrix())
        self._inside = [points_in(mesh.points, area.drawn())[mesh.faces] for area in areas]

    def of(self, number: int) -> Surface | None:
        """The unseen part of an area, -1 for the rest."""
        if number >= 0:
            keep: NDArray[np.bool_] = np.any(self._inside[number], axis=1)
        else:
            keep = np.ones(len(self._car.faces), dtype=bool)
            for inside in self._inside:
                keep &= ~np.all(inside, axis=1)
        left = still_unseen(self._car.kept(keep), self.probes)
        return Surface(left, floor=False) if len(left.faces) else None

    def owners(self, named: NDArray[np.int32]) -> dict[int, tuple[StandingProbe, ...]]:
        """The probes of each area by its number, -1 for the rest; an area that was not scanned at all has none."""
        there = set(np.unique(named).tolist())
        held: dict[int, tuple[StandingProbe, ...]] = {}
        for probe in self.probes:
            at = self._pose.inverse().apply(probe.at_mm)[None]
            inside = [
                n for n, area in enumerate(self._areas) if n in there and points_in(at, area.drawn())[0]
            ]
            number = inside[-1] if inside else -1
            held[number] = (*held.get(number, ()), probe)
        return held


def _unseen(patches: Mesh, rims: NDArray[np.float64]) -> Mesh:
    """Patches as they are, rim segments (R, 2, 3) as triangles without area."""
    first = len(patches.points) + 2 * np.arange(len(rims), dtype=np.int32)
    slivers = np.column_stack([first, first + 1, first + 1]).astype(np.int32)
    return Mesh(np.vstack([patches.points, rims.reshape(-1, 3)]), np.vstack([patches.faces, slivers]))


def _middle(scan: ScanRef, pose: Pose) -> Vector:
    if not scan.picks:
        return (0.0, 0.0, 0.0)
    x, y, z = pose.apply(np.array([pick.at_mm for pick in scan.picks])).mean(axis=0)
    return float(x), float(y), float(z)
