"""From a read scan to what the rest of the program uses: welded, in mm, its holes and roughness known."""

from dataclasses import dataclass

import numpy as np

from floorpan.frames import Pose
from floorpan.geometry.edges import edges
from floorpan.geometry.holes import Unseen, unseen_patches
from floorpan.geometry.mesh import Mesh
from floorpan.geometry.noise import WIDEST_MM, Roughness, roughness
from floorpan.geometry.weld import weld
from floorpan.progress import Step, Work, part
from floorpan.scan.cleaning import clean_up
from floorpan.scan.cleaning_list import CleaningDeed, deeds
from floorpan.scan.quality import ScanFacts, facts_of, in_mm
from floorpan.scan.read import RawScan
from floorpan.scan.surfacing import surface_from_points


@dataclass(frozen=True, slots=True, eq=False)
class ScanMesh:
    """A scan ready for use, in its own coordinates.

    mesh   : welded, mm; faces in the order of the file, those that collapsed left out
    unseen : holes and rims of the whole scan
    rough  : its roughness, of the whole and place by place
    cleaned : for each deed of the cleaning list what it did: how many
    """

    mesh: Mesh
    facts: ScanFacts
    unseen: Unseen
    rough: Roughness
    cleaned: tuple[dict[str, int], ...] = ()


def prepare(
    raw: RawScan, unit: str, cleaning: tuple[CleaningDeed, ...] = (), factor: float = 1.0
) -> Work[ScanMesh]:
    """Weld, multiply by the factor, clean as the list says, find holes, measure roughness.

    What cleaning takes away is unseen afterwards. Raises BadValue for an unknown unit, EmptyCrop where cleaning
    leaves nothing.
    """
    mesh, left = in_mm(raw, unit), {}
    if raw.points_only:
        surfaced = yield from part(surface_from_points(mesh.points), 0.0, 0.2)
        mesh, left = surfaced.mesh, surfaced.left_out
    yield Step(0.2, "Joining points")
    welded = weld(mesh)
    collapsed = int(np.count_nonzero(welded.collapsed))
    mesh = welded.mesh.kept(~welded.collapsed) if collapsed else welded.mesh
    if factor != 1.0:
        mesh = Mesh(factor * mesh.points, mesh.faces)
    counts: tuple[dict[str, int], ...] = ()
    if cleaning:
        clean = yield from part(clean_up(mesh, deeds(cleaning)), 0.2, 0.4)
        mesh, counts = clean.mesh, clean.counts
    yield Step(0.4, "Looking for holes")
    found = edges(mesh)
    unseen = unseen_patches(mesh, found)
    yield Step(0.8, "Measuring roughness")
    rough = roughness(mesh, widest_mm=WIDEST_MM)
    yield Step(1.0, "Ready")
    facts = facts_of(mesh, found, unseen, rough.sigma_mm, collapsed, {**raw.dropped, **left})
    return ScanMesh(mesh, facts, unseen, rough, counts)


def facing_up_share(mesh: Mesh, pose: Pose) -> float:
    """Share of a mesh's area that faces up once it stands at a pose, areas weighted by how level they lie; 0 to 1.

    A floor scan gives nearly 1, one turned inside out nearly 0. Upright faces have no say.
    """
    # Seen from above a face has twice the area its two sides span there.
    ahead, across = np.ascontiguousarray((mesh.points @ np.reshape(pose.rotation, (3, 3))[:2].T).T)
    a, b, c = mesh.faces.T
    from_a, to_a = ahead[a], across[a]
    level = (ahead[b] - from_a) * (across[c] - to_a) - (across[b] - to_a) * (ahead[c] - from_a)
    total = float(np.abs(level).sum())
    return float(level[level > 0.0].sum()) / total if total > 0.0 else 0.5


def flipped(mesh: Mesh) -> Mesh:
    """The mesh with every face turned over."""
    return Mesh(mesh.points, np.ascontiguousarray(mesh.faces[:, ::-1]))
