"""The memory behind a layout: prepared scans, floors with their tiles, bodies, the last scene."""

from collections.abc import Mapping

from floorpan.derive.cropped import cropped
from floorpan.derive.floor import Floor, Standing, build_floor
from floorpan.derive.memory import Memory
from floorpan.derive.part_meshes import PartMeshes
from floorpan.derive.scene import Scene
from floorpan.frames import STILL
from floorpan.layout import Layout, ScanRef
from floorpan.progress import Step, Work, finish, part
from floorpan.scan import RawScan
from floorpan.scan.axes import AxesFit, fit_axes
from floorpan.scan.bridges import Bridged, bridge_holes
from floorpan.scan.prepare import ScanMesh, prepare
from floorpan.scan.seen_elsewhere import WITHIN_MM, SeenElsewhere


class Bench:
    """Everything that may be forgotten without losing anything.

    store : sha256 of a scan file to what was read from it; never written to
    """

    def __init__(self, store: Mapping[str, RawScan]) -> None:
        self.store = store
        self.memory = Memory()
        self.meshes = PartMeshes(store)
        self._prepared: dict[tuple[object, ...], ScanMesh] = {}
        self._last: Scene | None = None

    def prepare(self, scan: ScanRef) -> Work[ScanMesh]:
        """The scan welded, in mm, cleaned, with its holes and noise; worked out once per file, unit and cleaning."""
        key = _prepared_from(scan)
        if key not in self._prepared:
            self._prepared[key] = yield from prepare(
                self.store[scan.sha256], scan.unit, scan.cleaned, scan.factor
            )
        return self._prepared[key]

    def is_prepared(self, scan: ScanRef) -> bool:
        """Whether `prepare` has nothing left to do for this scan."""
        return _prepared_from(scan) in self._prepared

    def prepared(self, scan: ScanRef) -> ScanMesh:
        """The scan as `prepare` left it. Raises KeyError before that."""
        return self._prepared[_prepared_from(scan)]

    def scene(self, layout: Layout) -> Scene:
        """The scene of a layout; the same layout gives the same scene."""
        if self._last is None or self._last.layout is not layout:
            floors = tuple(self._floor(layout, scan) for scan in self.judged_scans(layout))
            self._last = Scene(layout=layout, floors=floors, memory=self.memory, meshes=self.meshes)
        return self._last

    def bridged(self, scan: ScanRef) -> Bridged:
        """A prepared scan with the holes closed that are asked for. Raises KeyError before it is prepared."""
        ready = self.prepared(scan)
        return self.memory.get(
            "bridged", (ready, scan.bridges), lambda: bridge_holes(ready.mesh, ready.unseen, scan.bridges)
        )

    def axes_fit(self, scan: ScanRef) -> AxesFit | None:
        """How well a scan's picks agree with one set of axes; None while there are too few."""
        if not scan.picks:
            return None
        return self.memory.get("axes", (scan.picks,), lambda: fit_axes(scan.picks))

    def floor(self, layout: Layout) -> Floor | None:
        """The floor that things stand on, or None: of the first bare scan that is set into car axes."""
        scan = self.floor_scan(layout)
        return None if scan is None else self._floor(layout, scan)

    def floors_ready(self, layout: Layout) -> bool:
        """Whether `floor` and `scene` answer at once."""
        scans = self.judged_scans(layout)
        return all(self._is_ready(layout, scan) for scan in scans) and self.meshes.is_ready(layout)

    def make_floors(self, layout: Layout) -> Work[None]:
        """Prepare every scan that is judged, and make its floor; and the mesh of every part that has one."""
        scans = self.judged_scans(layout)
        for number, scan in enumerate(scans):
            yield from part(self.prepare(scan), 0.8 * number / len(scans), 0.8 * (number + 1) / len(scans))
        for number, scan in enumerate(scans):
            yield Step(0.8 + 0.15 * number / len(scans), "Setting the scan into car axes")
            for area in self._floor(layout, scan).areas:
                # Cut up here, beside the window, and not by whoever first asks for a gap.
                _ = area.surface.boxes
        yield from part(self.meshes.make(layout), 0.95, 1.0)

    def judged_scans(self, layout: Layout) -> tuple[ScanRef, ...]:
        """The scans that checks measure to, whose files are here: the floor first, then those that show more.

        A scan of "other" things is only looked at, unless it is all there is.
        """
        there = [scan for scan in layout.scans if scan.pose is not None and scan.sha256 in self.store]
        first = next((scan for scan in there if scan.role == "bare"), there[0] if there else None)
        return tuple(
            scan for scan in (first, *(s for s in there if s is not first and s.role != "other")) if scan
        )

    def floor_scan(self, layout: Layout) -> ScanRef | None:
        """The scan that serves as the floor."""
        return next(iter(self.judged_scans(layout)), None)

    def _is_ready(self, layout: Layout, scan: ScanRef) -> bool:
        name, made_from, _ = self._floor_key(layout, scan)
        return self.is_prepared(scan) and self.memory.holds(name, made_from)

    def _floor(self, layout: Layout, scan: ScanRef) -> Floor:
        name, made_from, covered = self._floor_key(layout, scan)
        return self.memory.get(name, made_from, lambda: self._build(layout, scan, covered))

    def _build(self, layout: Layout, scan: ScanRef, covered: frozenset[str]) -> Floor:
        prepared = finish(self.prepare(scan))
        root = _root(layout, scan)
        elsewhere = tuple(self._elsewhere(layout, scan, other) for other in self._others(layout, scan))
        return build_floor(
            scan, prepared, self.bridged(scan), covered, Standing(root, self.axes_fit(root), elsewhere)
        )

    def _others(self, layout: Layout, scan: ScanRef) -> tuple[ScanRef, ...]:
        """Scans that may have seen what this one missed: of bare metal only those that show bare metal too."""
        return tuple(
            other
            for other in self.judged_scans(layout)
            if other is not scan and (other.role == "bare" or scan.role != "bare")
        )

    def _elsewhere(self, layout: Layout, scan: ScanRef, other: ScanRef) -> SeenElsewhere:
        prepared = finish(self.prepare(other))
        # The rim of a carpet lies its own thickness over the metal that goes on there.
        within = WITHIN_MM + (layout.carpet().loose_mm if scan.role != other.role else 0.0)

        def make() -> SeenElsewhere:
            pose = other.pose or STILL
            return SeenElsewhere(
                cropped(prepared.mesh, other).moved(pose.matrix()),
                prepared.unseen.patches.moved(pose.matrix()),
                pose.apply(prepared.unseen.rims.reshape(-1, 3)).reshape(-1, 2, 3),
                within,
            )

        name = ("seen elsewhere", within, *_prepared_from(other))
        return self.memory.get(name, (other.pose, other.crop, other.outlines), make)

    def _floor_key(
        self, layout: Layout, scan: ScanRef
    ) -> tuple[tuple[object, ...], tuple[object, ...], frozenset[str]]:
        things = {thing.id for thing in layout.things()}
        covered = frozenset(area.id for area in scan.areas if area.stands_for in things)
        others = self._others(layout, scan)
        name: tuple[object, ...] = ("floor", scan.id, *_prepared_from(scan), scan.flipped, scan.role, covered)
        made_from: tuple[object, ...] = (scan.pose, scan.crop, scan.outlines, scan.areas, scan.probes)
        made_from += (_root(layout, scan).picks, scan.joined, scan.bridges)
        if others:
            name += (layout.carpet().loose_mm, *(_prepared_from(other) for other in others))
            made_from += tuple(one for o in others for one in (o.pose, o.crop, o.outlines))
        return name, made_from, covered


def _root(layout: Layout, scan: ScanRef) -> ScanRef:
    """The scan that a scan's axes come from."""
    return scan if scan.joined is None else layout.scan(scan.joined.onto)


def _prepared_from(scan: ScanRef) -> tuple[object, ...]:
    """Everything a prepared scan follows from, compared by value."""
    return scan.sha256, scan.unit, scan.cleaned, scan.factor
