"""Thinned pictures of big scans: made one after another beside everything else, remembered by mesh."""

from collections.abc import Callable, Sequence
from weakref import WeakKeyDictionary

from PySide6.QtCore import QObject

from floorpan.errors import FloorpanError
from floorpan.geometry.mesh import Mesh
from floorpan.geometry.thin import Thinned
from floorpan.progress import Work
from floorpan.units import show_length, show_number
from floorpan_app.jobs import Job, ThreadLane
from floorpan_app.stage import thinning, words
from floorpan_app.stage.thinning import thinned
from floorpan_app.viewport.surfaces import smooth_normals


class Thinner:
    """Knows which meshes are drawn thinned.

    ready(mesh) is called when one is, say(text) tells how far it strays.
    """

    def __init__(self, ready: Callable[[Mesh], None], say: Callable[[str], None], parent: QObject) -> None:
        self._ready = ready
        self._say = say
        self._parent = parent
        self._lane = ThreadLane(parent)
        self._known: WeakKeyDictionary[Mesh, Thinned] = WeakKeyDictionary()
        self._at_work: dict[int, Job] = {}

    def of(self, mesh: Mesh) -> Mesh | None:
        """The thinned copy of a mesh; None while there is none."""
        known = self._known.get(mesh)
        return None if known is None else known.mesh

    def follow(self, meshes: Sequence[Mesh]) -> None:
        """Thin those that are big; stop at those that are gone."""
        wanted = {
            id(mesh): mesh
            for mesh in meshes
            if len(mesh.faces) > thinning.MOST_TRIANGLES and mesh not in self._known
        }
        for number in set(self._at_work) - set(wanted):
            self._at_work.pop(number).cancel()
        for number, mesh in wanted.items():
            if number not in self._at_work:
                self._begin(number, mesh)

    def stop(self) -> None:
        """Stop at all of them."""
        self._at_work.clear()
        self._lane.stop_all()
        self._lane.wait()

    def _begin(self, number: int, mesh: Mesh) -> None:
        def work() -> Work[Thinned]:
            made = yield from thinned(mesh, thinning.MOST_TRIANGLES)
            smooth_normals(made.mesh)
            return made

        job = self._at_work[number] = Job(words.THINNING, work, self._parent)
        job.succeeded.connect(lambda made: self._done(number, mesh, made))
        job.failed.connect(lambda fault: self._failed(number, fault))
        job.ended.connect(job.deleteLater)
        self._lane.run(job)

    def _done(self, number: int, mesh: Mesh, made: Thinned) -> None:
        if self._at_work.pop(number, None) is None:
            return
        self._known[mesh] = made
        self._say(
            words.THINNED.format(
                n=show_number(float(len(made.mesh.faces)), 0),
                all=show_number(float(len(mesh.faces)), 0),
                worst=show_length(made.deviation.worst_mm, digits=2, with_unit=True),
            )
        )
        self._ready(mesh)

    def _failed(self, number: int, fault: object) -> None:
        # The picture stays as it is, only slower; that is worth a word and no more.
        if self._at_work.pop(number, None) is not None and isinstance(fault, FloorpanError):
            self._say(f"{fault.what} {fault.remedy}")
