"""A copy of a project under another name: its layout as it is on the bench, its scans, its kept versions."""

import shutil
from dataclasses import replace
from datetime import datetime
from pathlib import Path

from floorpan.edits import rename_project
from floorpan.layout import Layout
from floorpan.progress import Work, part
from floorpan.project.durable import leads_out, saving
from floorpan.project.folder import Project, check_free, create, save
from floorpan.project.imports import copy_in, path_of
from floorpan.project.versions import VERSIONS


def copying(
    project: Project, layout: Layout, folder: Path, title: str, *, now: datetime | None = None
) -> Work[Path]:
    """Write a copy into a folder that is empty or not there yet; returns it.

    Scans that are missing stay missing. Raises ProjectProblem, UnreadableScan, NotSaved; whatever happens, no half
    copy is left.
    """
    check_free(folder)
    was_there = folder.exists()
    copy = create(folder, title, now=now)
    try:
        usable = project.usable()
        for number, one in enumerate(usable):
            work = copy_in(copy.folder, path_of(project.folder, one))
            yield from part(work, number / len(usable), (number + 1) / len(usable))
        _copy_versions(project.folder, copy.folder)
        whole = replace(copy, imports=project.imports, missing=project.missing, extra=project.extra)
        save(whole, rename_project(layout, title), now=now)
    except BaseException:
        # The reason why it failed or was stopped is what matters; what cannot be taken back stays.
        shutil.rmtree(copy.folder, ignore_errors=True)
        if was_there:
            copy.folder.mkdir(exist_ok=True)
        raise
    return copy.folder


def _copy_versions(source: Path, target: Path) -> None:
    """Plain files only: a link may lead out of the project."""
    if leads_out(source, source / VERSIONS):
        return
    kept = [path for path in sorted((source / VERSIONS).glob("*.json")) if not path.is_symlink()]
    if not kept:
        return
    with saving(target / VERSIONS):
        (target / VERSIONS).mkdir(exist_ok=True)
        for path in kept:
            shutil.copyfile(path, target / VERSIONS / path.name)
