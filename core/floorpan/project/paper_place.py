"""Where a report may stand: beside a project or far from it, never on a part of it."""

from pathlib import Path

from floorpan.errors import ReportProblem
from floorpan.project.folder import BACKUP, PROJECT
from floorpan.project.imports import IMPORTS
from floorpan.project.versions import VERSIONS


def check_paper_place(target: Path, project: Path) -> None:
    """Raise ReportProblem where no report can or may stand.

    target  : the file to be
    project : a project folder, or its project.json
    """
    try:
        folder, place, is_folder = project.resolve(), target.resolve(), target.is_dir()
    except OSError as fault:
        raise ReportProblem(
            "report-name", f"The report was not written: {fault.strerror}.", "Give it another name."
        ) from fault
    folder = folder if folder.is_dir() else folder.parent
    parts = {folder / PROJECT, folder / BACKUP}
    if place in parts or any(place.is_relative_to(folder / inner) for inner in (IMPORTS, VERSIONS)):
        raise ReportProblem(
            "report-on-project",
            f"{target} is a part of the project itself.",
            "Give the report another name, so that the project stays.",
        )
    if is_folder:
        raise ReportProblem(
            "report-on-folder", f"{target} is a folder.", "Give the report a name of its own."
        )
    if not target.parent.is_dir():
        raise ReportProblem(
            "report-nowhere", f"There is no folder {target.parent}.", "Make it, or name another."
        )
