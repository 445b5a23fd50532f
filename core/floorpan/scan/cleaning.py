"""What is cleaned away from a scan: kept as a list of deeds in the scan's own coordinates, the file stays as it is."""

import math
from dataclasses import dataclass
from typing import Annotated

import numpy as np
from numpy.typing import NDArray

from floorpan.errors import BadValue, EmptyCrop
from floorpan.fields import Choice, Range, check_fields
from floorpan.frames import Vector
from floorpan.geometry.islands_kept import islands_at, measured_islands
from floorpan.geometry.mesh import Mesh
from floorpan.geometry.one_facing import one_facing
from floorpan.geometry.one_sheet import lesser_sheet
from floorpan.geometry.spikes import spikes
from floorpan.geometry.two_a_side import surplus_faces
from floorpan.geometry.useless_faces import duplicate_faces, flat_faces
from floorpan.progress import Step, Work, part

Bools = NDArray[np.bool_]
Counts = dict[str, int]

AS_MOST = "as most of it faces"
UPWARD = "upward"
TO_A_PLACE = "to a place"
LARGER_ISLAND = "the larger island"
LESS_NOISE = "the smoother island"


@dataclass(frozen=True, slots=True, kw_only=True)
class DropSmallIslands:
    """Islands with fewer triangles than a number, or smaller along every side than a length, go."""

    fewer_triangles: Annotated[int, Range(0, 10_000_000, "", "Fewer triangles than")] = 0
    smaller_mm: Annotated[float, Range(0.0, 10_000.0, "mm", "Smaller than")] = 0.0

    def __post_init__(self) -> None:
        check_fields(self)


@dataclass(frozen=True, slots=True, kw_only=True)
class NamedIslands:
    """Islands named by places on them: those go, or those are all that stays. Needs one place.

    at_mm : on the islands, in the scan's own coordinates [mm]
    """

    at_mm: tuple[Vector, ...]
    keep: bool = False

    def __post_init__(self) -> None:
        if not self.at_mm:
            raise BadValue("no-place", "No island is named.", "Point at one on the scan.")
        for place in self.at_mm:
            _check_finite(place)


@dataclass(frozen=True, slots=True, kw_only=True)
class RemoveSpikes:
    """Points that stand out of the sheet around them go with their triangles; what they leave open is unseen."""

    sigmas: Annotated[float, Range(3.0, 100.0, "", "Sigmas", "how many times the roughness around it")] = 6.0
    height_mm: Annotated[float, Range(0.05, 1000.0, "mm", "Higher than")] = 2.0
    most_points: Annotated[
        int, Range(1, 12, "", "Points side by side", "more of them are a stud, not a spike")
    ] = 3

    def __post_init__(self) -> None:
        check_fields(self)


@dataclass(frozen=True, slots=True, kw_only=True)
class DropUselessFaces:
    """Triangles without area, and those that are there twice, go."""


@dataclass(frozen=True, slots=True, kw_only=True)
class CutForeignFaces:
    """Where three triangles or more meet in one edge, the most foreign go until there are two."""


@dataclass(frozen=True, slots=True, kw_only=True)
class TurnFaces:
    """Triangles are turned until every sheet faces one way.

    up      : direction that most of a sheet is to face, in the scan's own coordinates, for "upward"
    seen_from_mm : place that most of a sheet is to face [mm], for "to a place"

    "upward" turns the underside of a dash over as well where it hangs together with nothing else; naming a place
    in the cabin does not.
    """

    toward: Annotated[str, Choice((AS_MOST, UPWARD, TO_A_PLACE), "Facing")] = AS_MOST
    up: Vector = (0.0, 0.0, 1.0)
    seen_from_mm: Vector = (0.0, 0.0, 0.0)

    def __post_init__(self) -> None:
        check_fields(self)
        _check_finite(self.up)
        _check_finite(self.seen_from_mm)
        if not any(self.up):
            raise BadValue("no-direction", "Up has no direction.", "Set which way is up on the scan.")


@dataclass(frozen=True, slots=True, kw_only=True)
class KeepOneSheet:
    """Where two islands lie one over the other and face the same way, one of them stays."""

    within_mm: Annotated[float, Range(0.1, 20.0, "mm", "Apart by at most")] = 3.0
    stays: Annotated[str, Choice((LARGER_ISLAND, LESS_NOISE), "What stays")] = LARGER_ISLAND

    def __post_init__(self) -> None:
        check_fields(self)


Cleaned = (
    DropSmallIslands
    | NamedIslands
    | RemoveSpikes
    | DropUselessFaces
    | CutForeignFaces
    | TurnFaces
    | KeepOneSheet
)


@dataclass(frozen=True, slots=True, eq=False)
class CleanResult:
    """A cleaned mesh.

    mesh   : faces and points in the order they had; the very mesh that was given where nothing changed
    counts : for each deed, what it found: how many
    """

    mesh: Mesh
    counts: tuple[Counts, ...]


def clean_up(mesh: Mesh, done: tuple[Cleaned, ...]) -> Work[CleanResult]:
    """A welded mesh [mm] with a list of deeds done to it in their order. Raises EmptyCrop where nothing is left."""
    counts: list[Counts] = []
    for number, deed in enumerate(done):
        begin, end = number / len(done), (number + 1) / len(done)
        mesh, count = yield from part(_do(mesh, deed), begin, end)
        counts.append(count)
        if not len(mesh.faces):
            raise EmptyCrop(
                "nothing-left",
                "Cleaning leaves nothing of this scan.",
                "Take back the last deed on the list.",
            )
    yield Step(1.0, "Clean")
    return CleanResult(mesh, tuple(counts))


def _do(mesh: Mesh, deed: Cleaned) -> Work[tuple[Mesh, Counts]]:
    match deed:
        case DropSmallIslands() | NamedIslands():
            yield Step(0.0, "Looking at islands")
            return _without_islands(mesh, deed)
        case RemoveSpikes():
            return (yield from _without_spikes(mesh, deed))
        case DropUselessFaces():
            yield Step(0.0, "Looking for useless triangles")
            return _without_useless(mesh)
        case CutForeignFaces():
            yield Step(0.0, "Looking at edges")
            gone = surplus_faces(mesh)
            return _kept(mesh, gone), {"triangles cut away": _many(gone)}
        case TurnFaces():
            yield Step(0.0, "Turning triangles")
            return _turned(mesh, deed)
        case KeepOneSheet():
            return (yield from _one_sheet(mesh, deed))


def _without_useless(mesh: Mesh) -> tuple[Mesh, Counts]:
    flat = flat_faces(mesh)
    again: Bools = duplicate_faces(mesh) & ~flat
    counts = {"triangles without area": _many(flat), "triangles there twice": _many(again)}
    return _kept(mesh, np.logical_or(flat, again)), counts


def _without_islands(mesh: Mesh, deed: DropSmallIslands | NamedIslands) -> tuple[Mesh, Counts]:
    found = measured_islands(mesh)
    nowhere = 0
    if isinstance(deed, DropSmallIslands):
        gone = np.logical_or(found.faces < deed.fewer_triangles, found.size_mm < deed.smaller_mm)
    else:
        named = islands_at(mesh, found.of_face, np.array(deed.at_mm))
        nowhere = int(np.count_nonzero(named < 0))
        gone = np.zeros(len(found.faces), dtype=bool)
        gone[named[named >= 0]] = True
        # Places that name nothing any more must not empty the scan.
        if deed.keep and gone.any():
            gone = ~gone
    faces = gone[found.of_face]
    counts = {"islands left out": _many(gone), "triangles left out": _many(faces)}
    return _kept(mesh, faces), counts | ({"places without an island": nowhere} if nowhere else {})


def _without_spikes(mesh: Mesh, deed: RemoveSpikes) -> Work[tuple[Mesh, Counts]]:
    found = yield from spikes(
        mesh, sigmas=deed.sigmas, height_mm=deed.height_mm, most_points=deed.most_points
    )
    spike = np.zeros(len(mesh.points), dtype=bool)
    spike[found.points] = True
    a, b, c = mesh.faces.T
    gone: Bools = spike[a] | spike[b] | spike[c]
    counts = {"spikes": len(found.points), "triangles left out": _many(gone)}
    return _kept(mesh, gone), counts | {"groups too wide for a spike, left": found.groups_kept}


def _turned(mesh: Mesh, deed: TurnFaces) -> tuple[Mesh, Counts]:
    found = one_facing(
        mesh,
        up=np.array(deed.up) if deed.toward == UPWARD else None,
        seen_from_mm=np.array(deed.seen_from_mm) if deed.toward == TO_A_PLACE else None,
    )
    counts = {"triangles turned": _many(found.turned), "sheets": found.sheets}
    if found.one_sided:
        counts |= {"sheets that cannot face one way": found.one_sided, "edges of the seam": found.seam_edges}
    return found.mesh, counts


def _one_sheet(mesh: Mesh, deed: KeepOneSheet) -> Work[tuple[Mesh, Counts]]:
    gone = yield from lesser_sheet(mesh, within_mm=deed.within_mm, by_noise=deed.stays == LESS_NOISE)
    return _kept(mesh, gone), {"triangles of a second sheet left out": _many(gone)}


def _kept(mesh: Mesh, gone: Bools) -> Mesh:
    return mesh.kept(~gone) if gone.any() else mesh


def _many(mask: Bools) -> int:
    return int(np.count_nonzero(mask))


def _check_finite(place: Vector) -> None:
    if not all(map(math.isfinite, place)):
        raise BadValue("not-a-place", f"{place} is no place on a scan.", "Point at it again.")
