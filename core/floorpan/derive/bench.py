"""The memory behind a layout: prepared scans, floors with their tiles, bodies, the last scene."""

from collections.abc import Mapping

from floorpan.derive.floor import Floor, build_floor
from floorpan.derive.memory import Memory
from floorpan.derive.scene import Scene
from floorpan.layout import Layout, ScanRef
from floorpan.progress import Work, finish
from floorpan.scan import RawScan
from floorpan.scan.axes import AxesFit, fit_axes
from floorpan.scan.prepare import ScanMesh, prepare


class Bench:
    """Everything that may be forgotten without losing anything.

    store : sha256 of a scan file to what was read from it; never written to
    """

    def __init__(self, store: Mapping[str, RawScan]) -> None:
        self.store = store
        self.memory = Memory()
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
            self._last = Scene(layout=layout, floor=self.floor(layout), memory=self.memory)
        return self._last

    def axes_fit(self, scan: ScanRef) -> AxesFit | None:
        """How well a scan's picks agree with one set of axes; None while there are too few."""
        if not scan.picks:
            return None
        return self.memory.get("axes", (scan.picks,), lambda: fit_axes(scan.picks))

    def floor(self, layout: Layout) -> Floor | None:
        """The floor that checks measure to: the first scan set into car axes whose file is here, or None."""
        scan = self.floor_scan(layout)
        if scan is None:
            return None
        prepared = finish(self.prepare(scan))
        name, made_from, covered = self._floor_key(layout, scan)
        return self.memory.get(
            name, made_from, lambda: build_floor(scan, prepared, covered, self.axes_fit(scan))
        )

    def floor_ready(self, layout: Layout) -> bool:
        """Whether `floor` answers at once."""
        scan = self.floor_scan(layout)
        if scan is None:
            return True
        name, made_from, _ = self._floor_key(layout, scan)
        return self.is_prepared(scan) and self.memory.holds(name, made_from)

    def floor_scan(self, layout: Layout) -> ScanRef | None:
        """The scan that serves as the floor."""
        return next((s for s in layout.scans if s.pose is not None and s.sha256 in self.store), None)

    def _floor_key(
        self, layout: Layout, scan: ScanRef
    ) -> tuple[tuple[object, ...], tuple[object, ...], frozenset[str]]:
        things = {thing.id for thing in layout.things()}
        covered = frozenset(area.id for area in scan.areas if area.stands_for in things)
        name = ("floor", scan.id, *_prepared_from(scan), scan.flipped, covered)
        return name, (scan.pose, scan.crop, scan.outlines, scan.areas, scan.probes, scan.picks), covered


def _prepared_from(scan: ScanRef) -> tuple[object, ...]:
    """Everything a prepared scan follows from, compared by value."""
    return scan.sha256, scan.unit, scan.cleaned, scan.factor
