"""The scans in the picture. What takes long is made in a worker; until it is there the picture stays as it was."""

from collections import deque
from typing import Final

from PySide6.QtCore import QObject, Signal

from floorpan.frames import Pose, Vector
from floorpan.geometry.mesh import Mesh
from floorpan.layout import Layout
from floorpan_app.jobs import Job
from floorpan_app.judging import Judging
from floorpan_app.scans_in_hand import ScanMap
from floorpan_app.stage import words
from floorpan_app.stage.exact_place import exact_place
from floorpan_app.stage.ground_meshes import OUTSIDE, UNSEEN, Piece, Wanted, map_values, pieces, wanted
from floorpan_app.stage.map_colours import shading_of
from floorpan_app.stage.thinner import Thinner
from floorpan_app.tools.events import Pick, Sight
from floorpan_app.viewport.scene import Scene
from floorpan_app.viewport.surfaces import Shading
from floorpan_app.viewport.thing import Manner

_OUTSIDE_OPACITY: Final = 0.4
_KEPT: Final = 3
_SHEET: Final = "carpet.laid"


class Ground(QObject):
    """Keeps the scans of a layout in a scene.

    drawn(first) : other pieces are in the picture now; `first` where another scan, or other axes, came with them
    told(text)   : how far the picture of a big scan strays from the scan
    """

    drawn = Signal(bool)
    told = Signal(str)

    def __init__(self, scene: Scene, judging: Judging, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._scene = scene
        self._judging = judging
        self._asked: Wanted | None = None
        self._seen: tuple[object, ...] = ()
        self._job: Job | None = None
        self._pieces: tuple[Piece, ...] = ()
        self._of: Wanted | None = None
        self._map: ScanMap | None = None
        self._sheet: Mesh | None = None
        self._thinner = Thinner(self._thinned, self.told.emit, self)
        # Steps that look at the scan by itself take turns with those that do not.
        self._known: deque[tuple[Wanted, tuple[Piece, ...]]] = deque(maxlen=_KEPT)

    @property
    def pieces(self) -> tuple[Piece, ...]:
        """What is in the picture."""
        return self._pieces

    @property
    def pose(self) -> Pose | None:
        """Where the scan in the picture stands; None while it lies in its own coordinates, or is not there."""
        return self._of.pose() if self._of is not None else None

    @property
    def floor(self) -> Piece | None:
        """The piece that words and things lie on; None where there is none."""
        return next((piece for piece in self._pieces if piece.kind == "mesh"), None)

    @property
    def scan_id(self) -> str:
        """The scan in the picture, empty where there is none."""
        return self._of.scans[0].id if self._of is not None and self._of.scans else ""

    def names(self, kind: str = "mesh") -> frozenset[str]:
        """Names of the pieces of a kind."""
        return frozenset(piece.name for piece in self._pieces if piece.kind == kind)

    def is_waiting(self) -> bool:
        """Whether pieces are being made."""
        return self._job is not None

    def follow(self, layout: Layout, *, bare: bool, cropping: bool, only: str = "") -> None:
        """Bring the scans of a layout into the picture, now or as soon as they are made.

        bare : the scan by itself, whatever stands for a part of it; cropping : what the crop leaves out as well
        only : id of a scan that is looked at alone
        """
        bench = self._judging.bench
        seen = (bench, layout.scans, *(thing.id for thing in layout.things()), bare, cropping, only)
        if len(self._seen) == len(seen) and all(
            a is b or (isinstance(a, str) and a == b) for a, b in zip(self._seen, seen, strict=True)
        ):
            return
        self._seen = seen
        asked = wanted(bench, layout, bare=bare, cropping=cropping, only=only)
        if asked == self._asked:
            return
        self._asked = asked
        if self._job is not None:
            self._job.cancel()
            self._job = None
        if asked == self._of:
            return
        known = next((made for key, made in self._known if key == asked), None)
        if known is None and asked.scans:
            self._make(asked, layout)
        else:
            self._put(asked, known or ())

    def lay_map(self, map: ScanMap | None) -> None:
        """Lay colours over the scan that a map tells of, or take them away."""
        if map is self._map:
            return
        touched = {one.scan_id for one in (self._map, map) if one is not None}
        self._map = map
        for piece in self._pieces:
            if piece.kind == "mesh" and piece.name.partition(".")[0] in touched:
                self._show(piece)

    def lay_sheet(self, sheet: Mesh | None) -> None:
        """Lay the carpet over the scan, or take it away. Nobody picks on it: it was never scanned."""
        if sheet is self._sheet:
            return
        self._sheet = sheet
        if sheet is None:
            self._scene.remove(_SHEET)
        else:
            self._scene.show_mesh(_SHEET, sheet, Manner(role="carpet", pickable=False))

    def exact(self, pick: Pick, sight: Sight) -> Vector:
        """Where a sight that met a piece in the picture meets the scan itself, whose picture may be thinned."""
        piece = next((piece for piece in self._pieces if piece.name == pick.name), None)
        if piece is None or self._drawn(piece) is piece.mesh:
            return pick.point_mm
        return exact_place(piece.mesh, pick, sight)

    def stop(self) -> None:
        """Make nothing more."""
        self._thinner.stop()
        self._asked = None
        self._seen = ()
        if self._job is not None:
            self._job.cancel()
            self._job = None

    def _make(self, asked: Wanted, layout: Layout) -> None:
        job = self._job = Job(words.DRAWING_SCAN, lambda: pieces(asked, layout), self)
        job.succeeded.connect(lambda made: self._made(job, asked, made))
        job.failed.connect(lambda fault: self._failed(job, asked, fault))
        job.ended.connect(job.deleteLater)
        self._judging.threads.run(job)
        self._judging.working.emit(job)

    def _made(self, job: Job, asked: Wanted, made: tuple[Piece, ...]) -> None:
        if job is self._job:
            self._job = None
            self._known.append((asked, made))
            self._put(asked, made)
            self._judging.scans_ready.emit()

    def _failed(self, job: Job, asked: Wanted, fault: object) -> None:
        if job is not self._job:
            return
        self._job = None
        # A scan in car axes is prepared for the judging as well, which tells what went wrong.
        if asked.pose() is None:
            self._judging.failed.emit(fault)

    def _put(self, asked: Wanted, made: tuple[Piece, ...]) -> None:
        before, self._pieces = self._pieces, made
        last, self._of = self._of, asked
        names = {piece.name for piece in made}
        for piece in before:
            if piece.name not in names:
                self._scene.remove(piece.name)
        for piece in made:
            self._show(piece)
        self._thinner.follow([piece.mesh for piece in made if piece.kind != UNSEEN])
        first = last is None or not _same_place(last, asked) or not before
        self.drawn.emit(first)

    def _thinned(self, mesh: Mesh) -> None:
        for piece in self._pieces:
            if piece.mesh is mesh:
                self._show(piece)
        self.drawn.emit(False)

    def _show(self, piece: Piece) -> None:
        mesh = self._drawn(piece)
        if piece.kind == UNSEEN:
            self._scene.show_patches(piece.name, piece.mesh)
        elif piece.kind == OUTSIDE:
            manner = Manner(role=piece.role, opacity=_OUTSIDE_OPACITY, pickable=False)
            self._scene.show_mesh(piece.name, mesh, manner)
        else:
            self._scene.show_mesh(
                piece.name, mesh, Manner(role=piece.role), shading=self._shading(piece, mesh)
            )

    def _drawn(self, piece: Piece) -> Mesh:
        """What is drawn of a piece: thinned, coarse until that is there, or itself where it is small."""
        return self._thinner.of(piece.mesh) or piece.quick or piece.mesh

    def _shading(self, piece: Piece, mesh: Mesh) -> Shading | None:
        map = self._map
        scans = self._of.scans if self._of is not None else ()
        scan = next((one for one in scans if one.id == piece.name.partition(".")[0]), None)
        if map is None or scan is None or scan.id != map.scan_id:
            return None
        return shading_of(map, map_values(map, mesh, scan.pose))


def _same_place(one: Wanted, other: Wanted) -> bool:
    """Whether the same scan stands at the same place in both."""
    return [(scan.sha256, scan.pose) for scan in one.scans[:1]] == [
        (scan.sha256, scan.pose) for scan in other.scans[:1]
    ]
