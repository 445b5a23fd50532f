"""A copy of a project under another name: its layout as it is on the bench, its scans, its kept versions."""

import shutil
from dataclasses import replace
from datetime import datetime
from pathlib import Path

from floorpan.edits import rename_project
from floorpan.errors import NotSaved
from floorpan.layout import Layout
from floorpan.progress import Work, part
from floorpan.project.durable import leads_out, saving
from floorpan.project.folder import Project, create, save
from floorpan.project.imports import copy_in, path_of
from floorpan.project.starting import all_or_nothing
from floorpan.project.versions import VERSIONS


def copying(
    project: Project, layout: Layout, folder: Path, title: str, *, now: datetime | None = None
) -> Work[Path]:
    """Write a copy into a folder that is empty or not there yet; returns it.

    Scans that are missing stay missing. Raises ProjectProblem, UnreadableScan, NotSaved; whatever happens, no half
    copy is left.
    """
    with all_or_nothing(folder) as place:
        copy = create(place, title, now=now)
        usable = project.usable()
        for number, one in enumerate(usable):
            work = copy_in(place, path_of(project.folder, one))
            yield from part(work, number / len(usable), (number + 1) / len(usable))
        whole = replace(copy, imports=project.imports, missing=project.missing, extra=project.extra)
        save(whole, rename_project(layout, title), now=now)
        _copy_versions(project.folder, place)
    return folder


def _copy_versions(source: Path, target: Path) -> None:
    """Plain files only: a link may lead out of the project."""
    if leads_out(source, source / VERSIONS):
        return
    kept = [path for path in sorted((source / VERSIONS).glob("*.json")) if not path.is_symlink()]
    if not kept:
        return
    try:
        with saving(target / VERSIONS):
            (target / VERSIONS).mkdir(exist_ok=True)
            for path in kept:
                shutil.copyfile(path, target / VERSIONS / path.name)
    except NotSaved:
        shutil.rmtree(target / VERSIONS, ignore_errors=True)
        raise
