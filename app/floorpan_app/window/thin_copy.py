"""A thinned copy of the scan in hand, written as a file to hand on; gaps are never measured on it."""

import re
from dataclasses import dataclass
from pathlib import Path

from PySide6.QtCore import QObject

from floorpan.derive.cropped import cropped
from floorpan.derive.floor import label_faces
from floorpan.errors import BadValue, FloorpanError, ReportProblem
from floorpan.frames import Pose
from floorpan.geometry.mesh import Mesh
from floorpan.geometry.thin import Thinned
from floorpan.layout import ScanRef
from floorpan.progress import Step, Work, part
from floorpan.project.paper_place import check_paper_place
from floorpan.project.slugs import slug
from floorpan.report.naming import place_text
from floorpan.scan.prepare import flipped
from floorpan.scan.writers import write_ply
from floorpan.units import System, parse_length, show_length, show_number
from floorpan_app import messages
from floorpan_app.stage.thinning import NotThinned, thinned, thinned_to
from floorpan_app.window.asking import fault_told
from floorpan_app.window.question import Answer, Question
from floorpan_app.window.running import Running
from floorpan_app.window.session import Session

_ENDING = ".ply"


@dataclass(frozen=True, slots=True, kw_only=True)
class CopyWish:
    """How a copy is wanted: as few triangles as stray no farther than worst_mm, or so many; 0 for the other one.

    keep_areas : whether the areas drawn on the scan stay as they are
    """

    worst_mm: float = 0.0
    triangles: int = 0
    keep_areas: bool = False


def copy_wish(text: str, system: System, *, count: bool, keep_areas: bool) -> CopyWish:
    """A wish from what somebody typed. Raises BadValue."""
    if not count:
        worst_mm = parse_length(text, system)
        if worst_mm <= 0.0:
            raise BadValue("no-stray", *messages.THIN_COPY_NO_STRAY)
        return CopyWish(worst_mm=worst_mm, keep_areas=keep_areas)
    digits = re.sub(r"[\s.,'\u2009\u202f]", "", text)
    if not digits.isdecimal() or int(digits) < 1:
        raise BadValue("no-count", *messages.THIN_COPY_NO_COUNT)
    return CopyWish(triangles=int(digits), keep_areas=keep_areas)


def copying(whole: Mesh, scan: ScanRef, wish: CopyWish, target: Path) -> Work[Thinned]:
    """Write what the scan's crop keeps of it, thinned, in car axes [mm]. Raises ReportProblem where it cannot."""
    yield Step(0.0, messages.THIN_COPY_WRITING)
    kept = cropped(flipped(whole) if scan.flipped else whole, scan)
    untouched = label_faces(kept, scan.areas) >= 0 if wish.keep_areas else None
    car = kept.moved((scan.pose or Pose()).matrix())
    work = (
        thinned(car, wish.triangles, untouched)
        if wish.triangles
        else thinned_to(car, wish.worst_mm, untouched)
    )
    made = yield from _thinning(part(work, 0.05, 0.95))
    beside = target.with_name(f"{target.name}.part")
    try:
        write_ply(made.mesh, beside)
        beside.replace(target)
    except OSError as fault:
        beside.unlink(missing_ok=True)
        what, remedy = messages.THIN_COPY_NOT_WRITTEN
        raise ReportProblem("copy-not-written", what.format(why=fault.strerror), remedy) from fault
    return made


def _thinning(work: Work[Thinned]) -> Work[Thinned]:
    """The same work told as a copy's: its own words speak of a picture."""
    try:
        while True:
            yield Step(next(work).done, messages.THIN_COPY_WRITING)
    except StopIteration as ended:
        made: Thinned = ended.value
        return made
    except NotThinned as fault:
        what, remedy = messages.THIN_COPY_NOT_THINNED
        raise ReportProblem("copy-not-thinned", what, remedy) from fault
    finally:
        work.close()


class ThinCopy(QObject):
    """Asks how far a copy may stray, or how many triangles it may have, and where it goes; then writes it."""

    def __init__(self, session: Session, running: Running) -> None:
        super().__init__(running)
        self._session = session
        self._running = running

    def write(self) -> None:
        """Ask, then write."""
        desk, project = self._session.desk, self._session.projects.project
        scan = desk.scans.of(desk.layout)
        if project is None or scan is None:
            return
        bench = self._session.judging.bench
        if scan.sha256 not in bench.store or not bench.is_prepared(scan):
            self._running.said.emit(messages.THIN_COPY_NOT_READY)
            return
        try:
            wish = self._wish(scan)
            target = None if wish is None else self._target(scan, project.folder)
        except FloorpanError as fault:
            self._running.asking.choose(fault_told(fault))
            return
        if wish is None or target is None:
            return
        # What others may change meanwhile is taken here; the rest is the lane's.
        whole, done = bench.prepared(scan).mesh, target
        job = self._running.run(
            messages.THIN_COPY_WRITING,
            lambda: copying(whole, scan, wish, done),
            lambda made: self._written(made, done),
        )
        job.cancelled.connect(lambda: self._running.said.emit(messages.THIN_COPY_STOPPED))

    def _wish(self, scan: ScanRef) -> CopyWish | None:
        asking = self._running.asking
        how = asking.choose(
            Question(
                title=messages.THIN_COPY_DIALOG,
                what=messages.THIN_COPY_HOW[0].format(name=scan.name),
                remedy=messages.THIN_COPY_HOW[1],
                answers=(
                    Answer(id="stray", text=messages.THIN_COPY_BY_STRAY),
                    Answer(id="count", text=messages.THIN_COPY_BY_COUNT),
                ),
            )
        )
        if not how:
            return None
        label, start = messages.THIN_COPY_LINE[how]
        typed = asking.line(messages.THIN_COPY_DIALOG, label, start)
        if not typed:
            return None
        wish = copy_wish(typed, self._session.desk.system, count=how == "count", keep_areas=False)
        if not scan.areas:
            return wish
        areas = asking.choose(
            Question(
                title=messages.THIN_COPY_DIALOG,
                what=messages.THIN_COPY_AREAS[0],
                remedy=messages.THIN_COPY_AREAS[1],
                answers=(
                    Answer(id="keep", text=messages.THIN_COPY_KEEP_AREAS),
                    Answer(id="thin", text=messages.THIN_COPY_THIN_AREAS),
                ),
            )
        )
        return (
            CopyWish(worst_mm=wish.worst_mm, triangles=wish.triangles, keep_areas=areas == "keep")
            if areas
            else None
        )

    def _target(self, scan: ScanRef, folder: Path) -> Path | None:
        target = self._running.asking.scan_copy(
            folder.parent / messages.THIN_COPY_NAME.format(name=slug(scan.name))
        )
        if target is None:
            return None
        if target.suffix.lower() != _ENDING:
            what, remedy = messages.THIN_COPY_ENDING
            raise ReportProblem("copy-ending", what.format(name=target.name), remedy)
        check_paper_place(target, folder)
        return target

    def _written(self, made: Thinned, target: Path) -> None:
        told = self._told(made)
        question = Question(
            title=messages.THIN_COPY_DIALOG,
            what=messages.THIN_COPY_WRITTEN.format(path=target),
            remedy=told,
            answers=(Answer(id="show", text=messages.OPEN_FOLDER),),
            leave=messages.CLOSE,
        )
        self._running.said.emit(told)
        if self._running.asking.choose(question):
            self._running.asking.show_folder(target.parent)

    def _told(self, made: Thinned) -> str:
        if made.whole:
            return messages.THIN_COPY_WHOLE.format(all=show_number(float(made.before), 0))
        off, desk = made.deviation, self._session.desk
        # Always in mm: a sixteenth of an inch is more than a copy should stray.
        mean, most, worst = (
            show_length(mm, digits=2, with_unit=True) for mm in (off.mean_mm, off.p99_mm, off.worst_mm)
        )
        return messages.THIN_COPY_TOLD.format(
            n=show_number(float(made.after), 0),
            all=show_number(float(made.before), 0),
            mean=mean,
            most=most,
            worst=worst,
            where=place_text(off.where_mm, desk.layout, desk.system),
        )
