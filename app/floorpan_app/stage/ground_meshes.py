"""What of the scans is drawn: cut to the crop, in named pieces, with the patches nobody scanned. No window here."""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import Final

import numpy as np
from numpy.typing import NDArray

from floorpan.checks.doubts import ON_BRIDGE_MM
from floorpan.derive import Bench, Floor
from floorpan.derive.cropped import cropped, is_cropped, kept_points
from floorpan.derive.floor import label_faces
from floorpan.frames import STILL, Pose, Vector
from floorpan.geometry.blended import blended
from floorpan.geometry.clustered import clustered
from floorpan.geometry.edges import islands
from floorpan.geometry.heights import HeightGrid
from floorpan.geometry.holes import Unseen
from floorpan.geometry.mesh import Mesh
from floorpan.layout import Layout, ScanRef
from floorpan.progress import Step, Work, part
from floorpan.scan.area_shapes import points_in
from floorpan.scan.bridges import Bridged
from floorpan.scan.prepare import ScanMesh, flipped
from floorpan_app.scans_in_hand import ScanMap
from floorpan_app.stage import words
from floorpan_app.stage.thinning import MOST_TRIANGLES, QUICK_TRIANGLES
from floorpan_app.viewport.surfaces import smooth_normals

Bools = NDArray[np.bool_]

UNSEEN, OUTSIDE, BRIDGED = "unseen", "outside", "bridged"
# So many holes are named, and none that is smaller: they would cover the scan with words.
_NAMED, _LEAST_NAMED_MM = 5, 50.0
_CELL_MM: Final = 10.0
_ROLES: Final = {"dash": "trim", "wheel rim": "trim", "belt": "trim", "handbrake": "steel", "seat": "seat"}


@dataclass(frozen=True, slots=True)
class Spot:
    """A place of a piece that gets words: a hole with its longest span and area, or a bridge (both nought)."""

    at_mm: Vector
    longest_mm: float = 0.0
    area_mm2: float = 0.0


@dataclass(frozen=True, slots=True, eq=False)
class Piece:
    """A mesh of a scan as it is drawn, in car axes where the scan has a pose, else in its own.

    name : `scan-1` for the floor itself, `scan-1.dash` for a named area, `.unseen` and `.outside` for the rest
    kind : `mesh`, `unseen`, `outside`, `bridged`
    quick : what is drawn of a big mesh until a thinned one is there
    heights : of the first mesh, for where words may lie on it
    """

    name: str
    kind: str
    role: str
    mesh: Mesh
    quick: Mesh | None = None
    heights: HeightGrid | None = None
    spots: tuple[Spot, ...] = ()


@dataclass(frozen=True, slots=True)
class Wanted:
    """Everything the pieces follow from, compared by value.

    bench    : whose memory holds the prepared scans
    scans    : those that are drawn, without what changes nothing in the picture
    covered  : areas a placed thing stands for
    bare     : whether the scan is looked at by itself, in one piece, whatever stands for a part of it
    cropping : whether what lies outside the crop is drawn as well
    """

    bench: Bench
    scans: tuple[ScanRef, ...]
    covered: frozenset[str]
    bare: bool
    cropping: bool

    def pose(self) -> Pose | None:
        """Where the first scan stands; None while none is set into car axes."""
        return self.scans[0].pose if self.scans else None


def wanted(bench: Bench, layout: Layout, *, bare: bool, cropping: bool, only: str = "") -> Wanted:
    """What should be drawn of a layout: every scan that is set into car axes, or one that is not yet.

    only : id of a scan that is looked at alone
    """
    there = [
        scan
        for scan in layout.scans
        if scan.sha256 in bench.store and (scan.id == only if only else scan.shown)
    ]
    posed = [scan for scan in there if scan.pose is not None]
    floor = bench.floor_scan(layout)
    scans = tuple(sorted(posed, key=lambda scan: scan is not floor)) or tuple(there[:1])
    things = set() if bare else {thing.id for thing in layout.things()}
    covered = frozenset(area.id for scan in scans for area in scan.areas if area.stands_for in things)
    return Wanted(bench, tuple(map(_as_drawn, scans)), covered, bare, cropping)


def _as_drawn(scan: ScanRef) -> ScanRef:
    return replace(scan, name="", picks=(), targets=(), good_to_mm=2.0, good_to_note="")


def pieces(asked: Wanted, layout: Layout) -> Work[tuple[Piece, ...]]:
    """Every piece; prepares scans and the floor where that was not done yet."""
    found: list[Piece] = []
    for number, scan in enumerate(asked.scans):
        share = number / len(asked.scans)
        prepared = yield from part(asked.bench.prepare(scan), share, share + 0.7 / len(asked.scans))
        yield Step(share + 0.7 / len(asked.scans), words.CUTTING_OUT)
        floors = () if asked.bare or scan.pose is None else asked.bench.scene(layout).floors
        floor = next((one for one in floors if one.scan.id == scan.id), None)
        if floor is not None:
            found += _floor_pieces(floor)
        else:
            found += _whole_pieces(scan, prepared)
        bridged = asked.bench.bridged(scan)
        unseen = bridged.unseen
        if floor is not None:
            # What another scan saw is unseen no more.
            unseen = replace(unseen, patches=floor.patches.moved((scan.pose or STILL).inverse().matrix()))
        found += _unseen_piece(scan, unseen, asked.covered)
        found += _bridged_piece(scan, bridged)
        if asked.cropping and is_cropped(scan):
            found += _outside_piece(scan, prepared)
    yield Step(0.95, words.CUTTING_OUT)
    made = [_with_quick(piece) for piece in found]
    first = next((number for number, piece in enumerate(made) if piece.kind == "mesh"), None)
    if first is not None:
        drawn = made[first].quick or made[first].mesh
        low, high = drawn.bounds[0, :2], drawn.bounds[1, :2]
        made[first] = replace(made[first], heights=HeightGrid.over(drawn, low, high, _CELL_MM))
    return tuple(made)


def _with_quick(piece: Piece) -> Piece:
    """A piece ready to be drawn: its normals known, and a coarse copy at hand where it is big."""
    if piece.kind in (UNSEEN, BRIDGED) or len(piece.mesh.faces) <= MOST_TRIANGLES:
        smooth_normals(piece.mesh)
        return piece
    quick = clustered(piece.mesh, QUICK_TRIANGLES)
    smooth_normals(quick)
    return replace(piece, quick=quick)


def _floor_pieces(floor: Floor) -> Iterator[Piece]:
    """The floor's areas without the margin that gaps are measured on."""
    scan, pose = floor.scan, floor.scan.pose or STILL
    for area in floor.areas:
        mesh = cropped(_seen(area.surface.mesh, floor), scan, pose)
        if len(mesh.faces):
            yield Piece(area.id, "mesh", _ROLES.get(area.kind, "scan"), mesh)


def _seen(mesh: Mesh, floor: Floor) -> Mesh:
    """A mesh of the floor without the bridges over its holes, which are pieces of their own."""
    if floor.bridges is None or not len(mesh.faces):
        return mesh
    middles = mesh.points[mesh.faces].mean(axis=1)
    away = np.abs(floor.bridges.signed(middles).distance_mm)
    return mesh.kept(away > ON_BRIDGE_MM)


def _whole_pieces(scan: ScanRef, prepared: ScanMesh) -> Iterator[Piece]:
    """The whole scan in one colour; named areas are pieces of their own, so that words lie under a dash, not on it."""
    mesh = flipped(prepared.mesh) if scan.flipped else prepared.mesh
    mesh = cropped(mesh, scan)
    role = "carpet" if scan.role == "carpet" else "scan"
    named = label_faces(mesh, scan.areas)
    pose = (scan.pose or STILL).matrix()
    for number, name in enumerate((scan.id, *(area.id for area in scan.areas)), -1):
        mine = mesh.kept(named == number)
        if len(mine.faces):
            yield Piece(name, "mesh", role, mine.moved(pose) if scan.pose is not None else mine)


def _bridged_piece(scan: ScanRef, bridged: Bridged) -> Iterator[Piece]:
    """What closes holes on the builder's word: a piece of its own, so that nobody takes it for metal that was seen."""
    if not bridged.ids:
        return
    laid = cropped(bridged.mesh.kept(bridged.bridged), scan, cut=False)
    if len(laid.faces):
        mesh = flipped(laid) if scan.flipped else laid
        mesh = mesh.moved((scan.pose or STILL).matrix())
        patch = islands(mesh)
        middles = mesh.points[mesh.faces].mean(axis=1)
        spots = tuple(Spot(_three(middles[patch == one].mean(axis=0))) for one in range(int(patch.max()) + 1))
        yield Piece(f"{scan.id}.{BRIDGED}", BRIDGED, "trim", mesh, spots=spots)


def _unseen_piece(scan: ScanRef, unseen: Unseen, covered: frozenset[str]) -> Iterator[Piece]:
    """The patches that lie in the crop and in nothing a placed thing stands for; a patch is shown whole or not."""
    patches = unseen.patches
    if not len(patches.faces):
        return
    patch = islands(patches)
    count = int(patch.max()) + 1
    middles = patches.points[patches.faces].mean(axis=1)
    centres: NDArray[np.float64] = np.array([middles[patch == one].mean(axis=0) for one in range(count)])
    keep = np.ones(count, dtype=bool)
    keep &= kept_points(centres, scan)
    for area in scan.areas:
        if area.id in covered:
            keep &= ~points_in(centres, area.drawn())
    shown = patches.kept(keep[patch])
    if len(shown.faces):
        mesh = shown.moved((scan.pose or STILL).matrix())
        yield Piece(
            f"{scan.id}.{UNSEEN}", UNSEEN, "unseen", mesh, spots=_largest(scan, unseen, centres[keep])
        )


def _largest(scan: ScanRef, unseen: Unseen, shown: NDArray[np.float64]) -> tuple[Spot, ...]:
    """The largest of the holes whose patches are shown, each at its middle; holes come largest first."""
    spots: list[Spot] = []
    for hole in unseen.holes:
        middle = hole.line.mean(axis=0)
        if len(spots) == _NAMED or hole.longest_mm < _LEAST_NAMED_MM:
            break
        if len(shown) and float(np.linalg.norm(shown - middle, axis=1).min()) < hole.longest_mm:
            at = _three((scan.pose or STILL).apply(middle))
            spots.append(Spot(at, hole.longest_mm, hole.area_mm2))
    return tuple(spots)


def _three(values: NDArray[np.float64]) -> Vector:
    x, y, z = (float(value) for value in values)
    return x, y, z


def _outside_piece(scan: ScanRef, prepared: ScanMesh) -> Iterator[Piece]:
    """What the crop leaves out: faces that reach out of what it keeps."""
    inside = kept_points(prepared.mesh.points, scan)
    whole: Bools = np.all(inside[prepared.mesh.faces], axis=1)
    outside = prepared.mesh.kept(~whole)
    if len(outside.faces):
        mesh = outside.moved((scan.pose or STILL).matrix())
        yield Piece(f"{scan.id}.{OUTSIDE}", OUTSIDE, "off", mesh)


def map_values(map: ScanMap, mesh: Mesh, pose: Pose | None) -> NDArray[np.float64]:
    """The lengths of a map at the points of a piece (N,), NaN where it tells nothing."""
    places = map.at_mm if pose is None else pose.apply(map.at_mm)
    return blended(mesh.points, places, map.value_mm, map.within_mm)
