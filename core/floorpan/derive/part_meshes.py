"""The meshes of placed parts, read from the store when somebody asks, and the parts as bodies."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from floorpan.derive.memory import Memory
from floorpan.derive.motions import Motion
from floorpan.errors import ScanProblem
from floorpan.geometry.depth import skin_points
from floorpan.geometry.mesh_solids import MeshHull, mesh_hull
from floorpan.geometry.solids import Body, Hull, Solid
from floorpan.items.mesh_part import (
    BODY,
    FAR,
    HOME,
    KIND,
    TRAVEL,
    MeshPart,
    pose_at,
    share_at,
    share_between,
    travel_mm,
)
from floorpan.items.states import State, stops_of
from floorpan.layout import Layout, Thing
from floorpan.progress import Step, Work, finish, part
from floorpan.scan import RawScan
from floorpan.scan.part_mesh import part_mesh

MESH_PART = "mesh-part-"
"""How the id of every part from a mesh file begins."""
# The share of the work that is done once every hull is there, before any of its tiles is.
_HULLS = 0.3
GONE = "Its file is not in the project. Put it back, or place the part from its file again."


class PartMeshes:
    """One hull for each mesh and unit, made once.

    store : sha256 of a file to what was read from it; never written to
    """

    def __init__(self, store: Mapping[str, RawScan]) -> None:
        self._store = store
        self._held: dict[tuple[str, str], Hull | ScanProblem] = {}

    def missing(self, thing: MeshPart) -> str:
        """Why there is no mesh of it, as a sentence or two; empty where there is one."""
        held = self._made(thing)
        if held is None:
            return GONE
        return f"{held.what} {held.remedy}" if isinstance(held, ScanProblem) else ""

    def is_ready(self, layout: Layout) -> bool:
        """Whether `make` has nothing left to do."""
        return not self._waiting(layout)

    def make(self, layout: Layout) -> Work[None]:
        """Make ready the mesh of every part whose file is here; one that cannot be read is told by `missing`."""
        waiting = self._waiting(layout)
        for number, thing in enumerate(waiting):
            begin = _HULLS * number / len(waiting)
            yield Step(begin, f"Making {thing.name} ready")
            yield from part(self._make(thing), begin, _HULLS * (number + 1) / len(waiting))
        yield from part(self.make_ready(layout), _HULLS, 1.0)

    def make_ready(self, layout: Layout) -> Work[None]:
        """Make ready for gaps what was made, a tile a step: a gap makes those that it needs ready itself, at once."""
        for thing in layout.of(MeshPart):
            hull = self._held.get(_key(thing))
            if isinstance(hull, MeshHull):
                while hull.build_next():
                    yield Step(hull.built, f"Making {thing.name} ready")
                # Worked out on first use, and kept.
                skin_points(hull)

    def hull(self, thing: MeshPart) -> Hull | None:
        """Its hull, made now where that was not done yet; None where there is no mesh of it."""
        held = self._made(thing)
        return held if isinstance(held, Hull) else None

    def _made(self, thing: MeshPart) -> Hull | ScanProblem | None:
        """What its file gave, None where it is not in the project."""
        if thing.sha256 not in self._store:
            return None
        if _key(thing) not in self._held:
            finish(self._make(thing))
        return self._held[_key(thing)]

    def _waiting(self, layout: Layout) -> list[MeshPart]:
        parts = layout.of(MeshPart)
        return [one for one in parts if _key(one) not in self._held and one.sha256 in self._store]

    def _make(self, thing: MeshPart) -> Work[None]:
        made: Hull | ScanProblem
        try:
            mesh = yield from part_mesh(self._store[thing.sha256], thing.unit)
            made = mesh_hull(mesh.mesh)
        except ScanProblem as fault:
            made = fault
        # The window and a worker may both have made it: the first one stays.
        self._held.setdefault(_key(thing), made)


def _key(thing: MeshPart) -> tuple[str, str]:
    return thing.sha256, thing.unit


@dataclass(frozen=True, slots=True, eq=False)
class PlacedMeshes:
    """The bodies of the parts from mesh files, of one layout. A part whose file is gone stands there as its box."""

    layout: Layout
    memory: Memory
    meshes: PartMeshes

    def moved_by(self, id: str) -> Iterator[tuple[Thing, str]]:
        """(the part, name of its axis) where it moves."""
        thing = self.part(id)
        yield from ((thing, axis.name) for axis in KIND.axes(thing))

    def rests_on(self, id: str) -> tuple[object, ...]:
        """All that its body, motions and axes follow from."""
        thing = self.part(id)
        return thing, self.meshes.hull(thing)

    def body(self, id: str, state: State) -> Body:
        """It, standing in a state."""
        thing = self.part(id)
        stops = stops_of(state, thing.id)
        share = share_at(thing, stops)
        return self.memory.get(("mesh part", share), self.rests_on(id), lambda: self._body(thing, share))

    def motion(self, id: str, state: State, axis: str, leg: tuple[str, str]) -> Motion:
        """It on its way from one stop to the other."""
        thing = self.part(id)

        def make() -> Motion:
            return Motion(lambda share: self._body(thing, share_between(*leg, share)), travel_mm(thing))

        return self.memory.get(("mesh part, moving", leg), self.rests_on(id), make)

    def part(self, id: str) -> MeshPart:
        """The part of that id."""
        found = self.layout.thing(id.partition(".")[0])
        assert isinstance(found, MeshPart)
        return found

    def _body(self, thing: MeshPart, share: float) -> Body:
        hull = self.meshes.hull(thing)
        if hull is None:
            return KIND.envelope_between(thing, BODY, {}, TRAVEL, HOME, FAR, share)
        return (Solid(hull, pose_at(thing, share)),)
