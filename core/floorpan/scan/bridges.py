"""Bridges: small holes of a scan closed on the builder's word, marked for good, and never stood on or cut to."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Annotated, Literal

import numpy as np
from numpy.typing import NDArray

from floorpan.errors import BadValue, FloorpanError, NoSuchThing, WrongStep
from floorpan.fields import Choice, Range, check_fields
from floorpan.frames import Vector
from floorpan.geometry.bridging import patch_over
from floorpan.geometry.holes import Unseen
from floorpan.geometry.mesh import Floats, Ints, Mesh
from floorpan.geometry.surface import Surface

SEEN = -1
# A hole is meant by a point no farther from its patch than this, or half its span [mm].
_NEAR_MM = 10.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Bridge:
    """A hole to be closed, named by a point near it so that it is found again when the scan is read again.

    at_mm : in the scan's own coordinates [mm]
    longest_mm : a hole with a longer span than this is not closed; common practice, no source
    """

    id: str
    at_mm: Vector
    longest_mm: Annotated[
        float,
        Range(1.0, 100.0, "mm", "Bridge up to", "longest span of the hole; wider ones need probe points"),
    ] = 30.0
    shape: Annotated[
        Literal["flat", "curved"], Choice(("flat", "curved"), "Patch", "curved follows the surface around it")
    ] = "flat"

    def __post_init__(self) -> None:
        check_fields(self)
        if not np.isfinite(self.at_mm).all():
            raise BadValue("not-finite", "A hole is named by three plain numbers.", "Pick the hole again.")


@dataclass(frozen=True, slots=True, kw_only=True)
class MissedBridge:
    """A bridge that could not be laid: its id, what is wrong, and what to do."""

    id: str
    code: str
    what: str
    remedy: str


@dataclass(frozen=True, slots=True, eq=False)
class Bridged:
    """A scan with its bridges.

    mesh   : the scan's faces as they were, then the bridges' faces
    bridge_of_face : (M,) place in `ids` of the bridge a face belongs to, SEEN for scanned ones
    ids, u_mm : of the bridges laid, and how far each may be off, half-width [mm]
    unseen : what is left of it once the bridged holes are taken out
    missed : bridges that were not laid
    """

    mesh: Mesh
    bridge_of_face: Ints
    ids: tuple[str, ...]
    u_mm: tuple[float, ...]
    unseen: Unseen
    missed: tuple[MissedBridge, ...]

    @property
    def bridged(self) -> NDArray[np.bool_]:
        """Mask (M,) of the faces nobody saw."""
        mask: NDArray[np.bool_] = self.bridge_of_face != SEEN
        return mask

    def near_bridge(self, places: Floats, within_mm: float) -> NDArray[np.bool_]:
        """Which places (N, 3) in the scan's coordinates lie within a distance of a bridge: no foot, no cut line."""
        if not self.ids:
            return np.zeros(len(places), dtype=bool)
        surface = Surface(self.mesh.kept(self.bridged), floor=False)
        near: NDArray[np.bool_] = np.abs(surface.signed(places).distance_mm) <= within_mm
        return near


def hole_for(unseen: Unseen, bridge: Bridge) -> int:
    """Which hole a bridge means: the nearest.

    Raises NoSuchThing where none is near, WrongStep where it is wider than the bridge may be.
    """
    number, away = -1, np.inf
    if len(unseen.patches.faces):
        found = Surface(unseen.patches, floor=False).signed(np.array([bridge.at_mm]))
        number, away = int(unseen.patch_of_face[found.face[0]]), abs(float(found.distance_mm[0]))
    if number < 0 or away > max(_NEAR_MM, unseen.holes[number].longest_mm / 2.0):
        raise NoSuchThing(
            "no-hole-there", "There is no hole near that point.", "Pick a point on the hatch over a hole."
        )
    longest = unseen.holes[number].longest_mm
    if longest > bridge.longest_mm:
        raise WrongStep(
            "hole-too-wide",
            f"This hole is {longest:.0f} mm across; only up to {bridge.longest_mm:.0f} mm is bridged.",
            "Scan it again, or measure probe points in it.",
            longest_mm=longest,
            limit_mm=bridge.longest_mm,
        )
    return number


def bridge_holes(mesh: Mesh, unseen: Unseen, bridges: Sequence[Bridge]) -> Bridged:
    """Close the holes that are asked for. Holes and mesh belong together; a hole asked for twice is closed once."""
    faces, owners = [mesh.faces], [np.full(len(mesh.faces), SEEN, dtype=np.int32)]
    points = [mesh.points]
    ids: list[str] = []
    doubts: list[float] = []
    closed: dict[int, str] = {}
    missed: list[MissedBridge] = []
    count = len(mesh.points)
    for bridge in bridges:
        try:
            number = hole_for(unseen, bridge)
        except FloorpanError as problem:
            missed.append(
                MissedBridge(id=bridge.id, code=problem.code, what=problem.what, remedy=problem.remedy)
            )
            continue
        if number in closed:
            continue
        closed[number] = bridge.id
        patch = patch_over(mesh, unseen.holes[number].loop, bridge.shape)
        # A patch counts its new points from the end of the mesh; other bridges' points come before them here.
        new = patch.faces >= len(mesh.points)
        faces.append(np.where(new, patch.faces - len(mesh.points) + count, patch.faces).astype(np.int32))
        points.append(patch.points)
        owners.append(np.full(len(patch.faces), len(ids), dtype=np.int32))
        count += len(patch.points)
        ids.append(bridge.id)
        doubts.append(patch.u_mm)
    whole = Mesh(np.vstack(points), np.vstack(faces)) if ids else mesh
    return Bridged(
        whole, np.concatenate(owners), tuple(ids), tuple(doubts), _without(unseen, closed), tuple(missed)
    )


def _without(unseen: Unseen, closed: dict[int, str]) -> Unseen:
    if not closed:
        return unseen
    left = [number for number in range(len(unseen.holes)) if number not in closed]
    rank = np.full(len(unseen.holes), -1, dtype=np.int32)
    rank[left] = np.arange(len(left), dtype=np.int32)
    keep = rank[unseen.patch_of_face] >= 0
    return replace(
        unseen,
        patches=unseen.patches.kept(keep),
        patch_of_face=rank[unseen.patch_of_face[keep]],
        holes=tuple(unseen.holes[number] for number in left),
    )
