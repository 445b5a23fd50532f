"""What a power cut leaves, and how it is found again."""

from dataclasses import dataclass, replace
from datetime import datetime

from floorpan.layout import Layout
from floorpan.progress import finish
from floorpan.project.document import parse_document
from floorpan.project.durable import leads_out, read_inside, saving, sweep
from floorpan.project.folder import AUTOSAVE, Project, checked, write_document
from floorpan.project.imports import IMPORTS
from floorpan.project.strict_json import LONGEST_BYTES
from floorpan.project.versions import VERSIONS


@dataclass(frozen=True, slots=True, kw_only=True)
class Autosave:
    """Work that was never saved. project : the project as it would be with that work taken up."""

    project: Project
    layout: Layout
    saved: datetime


def autosave(project: Project, layout: Layout, *, now: datetime | None = None) -> None:
    """Keep a layout that is not saved yet; raises NotSaved."""
    project.check_writable()
    write_document(project.folder / AUTOSAVE, project.document(layout, now))


def newer_autosave(project: Project) -> Autosave | None:
    """What was left by a window that did not close, where it is newer than the save and differs from it.

    Raises ProjectDamaged or ProjectNewer where it is there and cannot be read.
    """
    text = read_inside(project.folder, project.folder / AUTOSAVE, LONGEST_BYTES)
    if text is None:
        return None
    document = parse_document(text, AUTOSAVE)
    if document.saved < project.saved or document.layout == project.layout:
        return None
    known = {one.sha256 for one in project.imports}
    imports = (*project.imports, *(one for one in document.imports if one.sha256 not in known))
    with_it = replace(project, imports=imports, extra=document.extra)
    return Autosave(project=finish(checked(with_it)), layout=document.layout, saved=document.saved)


def clean_close(project: Project) -> None:
    """Remove the autosave and what writers that were cut short have left; raises NotSaved."""
    if project.read_only:
        return
    with saving(project.folder):
        (project.folder / AUTOSAVE).unlink(missing_ok=True)
        sweep(project.folder)
        for folder in (project.folder / IMPORTS, project.folder / VERSIONS):
            if not leads_out(project.folder, folder):
                sweep(folder)
