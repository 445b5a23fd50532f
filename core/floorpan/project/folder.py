"""The project folder: made, opened, saved, and given scan files."""

import contextlib
import dataclasses
import os
from collections.abc import Collection
from dataclasses import dataclass, field
from datetime import UTC, datetime
from pathlib import Path

from floorpan.errors import NotSaved, ProjectDamaged, ProjectNewer, ProjectProblem
from floorpan.items import MeshPart
from floorpan.layout import Layout
from floorpan.progress import Work, finish, part
from floorpan.project import imports as scan_files
from floorpan.project.document import Document, parse_document, print_document
from floorpan.project.durable import read_inside, saving, write_whole
from floorpan.project.imports import Import
from floorpan.project.migrations import migrate
from floorpan.project.strict_json import LONGEST_BYTES, parse
from floorpan.project.typed_json import Extra

PROJECT = "project.json"
BACKUP = "project.json.bak"
DAMAGED = "project.json.damaged"
AUTOSAVE = "autosave.json"

_FAULTS = {
    "missing": "The {kind} {name} is missing from the project folder.",
    "changed": "The {kind} {name} is not the one that was read: its bytes have changed.",
    "": "The {kind} {name} was never copied into the project folder.",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Note:
    """Something the builder should know about a project that opened all the same.

    sha256 : of the scan it is about, "" where it is about none
    """

    what: str
    remedy: str
    sha256: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Project:
    """A project on disk, as of its last save or import.

    folder    : where it lies, absolute
    layout    : what was saved
    saved     : when
    imports   : every scan file it keeps, also those no layout uses now
    missing   : sha256 of scans that cannot be read; gaps to them are unseen
    notes     : what the builder should know
    read_only : whether it was opened to look only
    extra     : keys of a newer hand, by address
    """

    folder: Path
    layout: Layout
    saved: datetime
    imports: tuple[Import, ...] = ()
    missing: frozenset[str] = frozenset()
    notes: tuple[Note, ...] = ()
    read_only: bool = False
    extra: Extra = field(default_factory=dict, compare=False)

    def document(self, layout: Layout, now: datetime | None, name: str = "") -> Document:
        """What a save, a version or an autosave of a layout holds; the clock is read where now is None."""
        return Document(
            saved=now or datetime.now(UTC), layout=layout, imports=self.imports, name=name, extra=self.extra
        )

    def usable(self) -> tuple[Import, ...]:
        """The scan files that are there, with the bytes they had."""
        return tuple(one for one in self.imports if one.sha256 not in self.missing)

    def check_writable(self) -> None:
        """Raise NotSaved where the project was opened to look only."""
        if self.read_only:
            raise NotSaved(
                "looking-only",
                "This project was opened to look only.",
                "Close the window that holds it and open it again, or save under another name.",
            )


def create(folder: Path, title: str, *, now: datetime | None = None) -> Project:
    """Make an empty project in a folder that is empty or not there yet.

    Raises ProjectProblem where something stands there, NotSaved where the folder cannot be written, BadValue
    for a title that does not fit.
    """
    place = Path(os.path.abspath(folder))
    project = Project(folder=place, layout=Layout(title=title), saved=now or datetime.now(UTC))
    check_free(place)
    was_there = os.path.lexists(place)
    try:
        with saving(place):
            place.mkdir(parents=True, exist_ok=True)
        return save(project, project.layout, now=project.saved)
    except NotSaved:
        if not was_there:
            with contextlib.suppress(OSError):
                place.rmdir()
        raise


def check_free(folder: Path) -> None:
    """Raise ProjectProblem unless a new project can go there: an empty folder, or a name nobody took."""
    if not os.path.lexists(folder):
        return
    if not os.path.isdir(folder):
        raise ProjectProblem("folder-taken", f"{folder} is a file.", "Name a new folder.", path=str(folder))
    try:
        is_empty = not any(folder.iterdir())
    except OSError as fault:
        why = fault.strerror or type(fault).__name__
        raise ProjectProblem(
            "folder-unreadable",
            f"{folder} cannot be looked into ({why}).",
            "Name another folder.",
            path=str(folder),
        ) from fault
    if not is_empty:
        raise ProjectProblem(
            "folder-taken",
            f"{folder} is not empty.",
            "Name a new folder, or empty this one.",
            path=str(folder),
        )


def open_project(path: Path, *, from_backup: bool = False, read_only: bool = False) -> Project:
    """The project of a folder or of the project.json in it. See `opening`."""
    return finish(opening(path, from_backup=from_backup, read_only=read_only))


def opening(path: Path, *, from_backup: bool = False, read_only: bool = False) -> Work[Project]:
    """Open a project: read its layout, then check the bytes of every scan file against their hash.

    A scan that is missing or changed opens all the same: it is in `missing`, with a note. from_backup reads
    the save before the last (as naming project.json.bak does). Nothing is written.
    Raises ProjectProblem where there is no project, ProjectNewer for a later format, ProjectDamaged
    otherwise.
    """
    folder, name = _found(path, BACKUP if from_backup else PROJECT)
    text = read_inside(folder, folder / name, LONGEST_BYTES)
    if text is None:
        raise _no_project(folder, name)
    document = parse_document(text, name)
    project = yield from checked(
        Project(
            folder=folder,
            layout=document.layout,
            saved=document.saved,
            imports=document.imports,
            read_only=read_only,
            extra=document.extra,
        )
    )
    if name != BACKUP:
        return project
    note = Note(what="This is the save before the last.", remedy="Look it over, then save.")
    return dataclasses.replace(project, notes=(note, *project.notes))


def checked(project: Project) -> Work[Project]:
    """The project with every scan file looked at again: `missing` and the notes about scans are new."""
    notes = yield from _scan_notes(project)
    others = tuple(note for note in project.notes if not note.sha256)
    return dataclasses.replace(project, missing=frozenset(n.sha256 for n in notes), notes=(*others, *notes))


def save(project: Project, layout: Layout, *, now: datetime | None = None) -> Project:
    """Write a layout as the project's own; the save before it becomes project.json.bak.

    Returns the project as saved. Whatever happens on the way, project.json is the old one or the new one,
    whole.
    Raises NotSaved, and the last save is untouched; ProjectNewer where a newer floorpan has saved meanwhile.
    """
    project.check_writable()
    document = project.document(layout, now)
    text = _printed(document)
    _keep_backup(project.folder)
    write_whole(project.folder / PROJECT, text)
    with saving(project.folder / AUTOSAVE):
        (project.folder / AUTOSAVE).unlink(missing_ok=True)
    return dataclasses.replace(project, layout=layout, saved=document.saved)


def write_document(path: Path, document: Document) -> None:
    """Write a document into a project; raises NotSaved."""
    write_whole(path, _printed(document))


def import_scan(project: Project, path: Path) -> Work[tuple[Project, Import]]:
    """Copy a scan file into the project and return the project that knows it.

    A scan that is there already is not kept twice; one that was missing or changed is mended by it. The table
    in project.json follows with the next save. Raises UnreadableScan, NotSaved.
    """
    project.check_writable()
    one = yield from scan_files.copy_in(project.folder, path)
    known = next((held for held in project.imports if held.sha256 == one.sha256), None)
    if known is not None and known.suffix != one.suffix:
        with saving(project.folder):
            scan_files.path_of(project.folder, one).replace(scan_files.path_of(project.folder, known))
    imports = project.imports if known else (*project.imports, one)
    notes = tuple(note for note in project.notes if note.sha256 != one.sha256)
    after = dataclasses.replace(project, imports=imports, missing=project.missing - {one.sha256}, notes=notes)
    return after, known or one


def _found(path: Path, name: str) -> tuple[Path, str]:
    place = Path(os.path.abspath(path))
    if os.path.isdir(place):
        return place, name
    if place.name in (PROJECT, BACKUP) and os.path.lexists(place):
        return place.parent, BACKUP if place.name == BACKUP else name
    what = f"{path} is no project." if os.path.lexists(place) else f"There is nothing at {path}."
    raise ProjectProblem("no-project", what, "Name a project folder or its project.json.", path=str(path))


def _no_project(folder: Path, name: str) -> ProjectProblem:
    if name == PROJECT and os.path.lexists(folder / BACKUP):
        return ProjectDamaged(
            "project-missing",
            f"{PROJECT} is missing from {folder}.",
            f"Open {BACKUP} in it.",
            path=str(folder),
        )
    return ProjectProblem(
        "no-project",
        f"{folder} holds no {name}.",
        "Name a project folder or its project.json.",
        path=str(folder),
    )


def _printed(document: Document) -> bytes:
    try:
        return print_document(document)
    except UnicodeEncodeError as fault:
        raise NotSaved(
            "half-a-character", "A name holds half a character.", "Type that name again, then save."
        ) from fault


def _keep_backup(folder: Path) -> None:
    """Keep the save that is about to go; one that cannot be read goes aside, and the backup stays."""
    text = read_inside(folder, folder / PROJECT, LONGEST_BYTES)
    if text is None:
        return
    try:
        migrate(parse(text, PROJECT), PROJECT)
    except ProjectNewer:
        raise
    except ProjectDamaged:
        write_whole(folder / DAMAGED, text)
    else:
        write_whole(folder / BACKUP, text)


def _scan_notes(project: Project) -> Work[tuple[Note, ...]]:
    """A note for every scan, and every part's mesh, that cannot be read as it was."""
    known = {one.sha256: one for one in project.imports}
    parts = {one.sha256: one.original_name for one in project.layout.of(MeshPart)}
    scans = {scan.sha256: scan.original_name for scan in project.layout.scans}
    meshes = parts.keys() - scans.keys()
    notes = []
    for index, one in enumerate(project.imports):
        work = scan_files.fault_of(project.folder, one)
        fault = yield from part(work, index / len(project.imports), (index + 1) / len(project.imports))
        if fault:
            notes.append(_scan_note(fault, one.original_name, one.sha256, meshes))
    for sha256, name in {**parts, **scans}.items():
        if sha256 not in known:
            notes.append(_scan_note("", name, sha256, meshes))
    return tuple(notes)


def _scan_note(fault: str, name: str, sha256: str, meshes: Collection[str]) -> Note:
    """meshes : of the parts from mesh files, where no scan has the same bytes"""
    kind = "mesh file" if sha256 in meshes else "scan file"
    return Note(
        what=_FAULTS[fault].format(kind=kind, name=name),
        remedy="Import that file again, or go on without it: every gap to it is unseen.",
        sha256=sha256,
    )
