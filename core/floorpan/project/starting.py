"""A project out of one scan."""

import contextlib
import os
import shutil
from collections.abc import Iterator
from datetime import datetime
from pathlib import Path

from floorpan.edits import add_scan
from floorpan.errors import UnitNeeded
from floorpan.layout import ScanRef
from floorpan.progress import Work, part
from floorpan.project.folder import BACKUP, PROJECT, Project, check_free, create, import_scan, save
from floorpan.project.imports import IMPORTS
from floorpan.scan.read import read_scan

ENDING = ".floorpan"

_LONGEST_NAME = 120
# Reading takes about this share of the time, copying the rest.
_READING = 0.8


@contextlib.contextmanager
def all_or_nothing(folder: Path) -> Iterator[Path]:
    """Make a project in a folder that is empty or not there yet; where that fails or is stopped, nothing is left.

    Gives the folder's absolute path. Raises ProjectProblem where something stands there; that is not touched.
    """
    place = Path(os.path.abspath(folder))
    check_free(place)
    was_there = os.path.lexists(place)
    try:
        yield place
    except BaseException:
        shutil.rmtree(place / IMPORTS, ignore_errors=True)
        # What cannot be taken back stays; the reason why it all failed is what matters.
        with contextlib.suppress(OSError):
            (place / PROJECT).unlink(missing_ok=True)
            (place / BACKUP).unlink(missing_ok=True)
            if not was_there:
                place.rmdir()
        raise


def forget_save_before(place: Path) -> None:
    """Take the save before away: of a project that was just made it holds nothing anybody would go back to."""
    (place / BACKUP).unlink(missing_ok=True)


def start_project(
    folder: Path, source: Path, unit: str | None, *, title: str = "", now: datetime | None = None
) -> Work[Project]:
    """Make a project in a folder that is empty or not there yet, with one scan in it.

    unit  : what the scan's numbers mean; None takes what the file says, else raises UnitNeeded, with the likely one as
            fact `proposed`
    title : of the project; made from the folder's name where empty
    Raises what reading a scan and making a project raise; whatever happens, no half project is left.
    """
    check_free(Path(os.path.abspath(folder)))
    scan = yield from part(read_scan(source, unit), 0.0, _READING)
    if unit is None and scan.unit_written is not None:
        unit = scan.proposal.unit
    if unit is None:
        raise UnitNeeded(
            "unit-needed",
            f"No unit is written in {source.name}. {scan.proposal.why}",
            f"Say which it is; {scan.proposal.unit} is likely."
            if scan.proposal.candidates
            else "Say which it is, and look at the size it gives.",
            file=source.name,
            why=scan.proposal.why,
            proposed=scan.proposal.unit,
        )
    with all_or_nothing(folder) as place:
        project = create(place, title or shown_name(place.name.removesuffix(ENDING)), now=now)
        project, reference = yield from part(importing(project, source, unit), _READING, 1.0)
        project = save(project, add_scan(project.layout, reference), now=now)
        forget_save_before(place)
        return project


def importing(
    project: Project, source: Path, unit: str, *, role: str = "bare"
) -> Work[tuple[Project, ScanRef]]:
    """Copy a scan that was read before into a project: the project that has it, and the scan for its layout.

    role : what it shows. Raises what copying raises.
    """
    project, one = yield from import_scan(project, source)
    reference = ScanRef(
        id="",
        name=shown_name(source.stem),
        sha256=one.sha256,
        suffix=one.suffix,
        original_name=one.original_name,
        unit=unit,
        role=role,
    )
    return project, reference


def shown_name(name: str) -> str:
    """A file's name as a title or a part's name: one line of text that can be saved."""
    text = name.encode("utf-8", "replace").decode("utf-8")
    return "".join(sign if sign.isprintable() else " " for sign in text).strip()[:_LONGEST_NAME] or "Untitled"
