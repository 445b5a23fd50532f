"""Pictures of a project as PNG files, for where no window can be opened.

python -m floorpan_app.sample_pictures PROJECT FOLDER
"""

import sys
from collections.abc import Sequence
from contextlib import closing
from pathlib import Path

from floorpan.derive import Bench
from floorpan.errors import FloorpanError
from floorpan.project.folder import open_project
from floorpan.project.store import ProjectStore
from floorpan.report.pictures import VIEWS
from floorpan_app.command import Pictures

SIZE = (1400, 800)
CANNOT = "floorpan: pictures cannot be drawn here, so there are none"


def write_pictures(project: Path, folder: Path) -> list[Path]:
    """One PNG for each view of the report, as `NAME-VIEW.png` beside one another; empty where none can be drawn.

    Raises FloorpanError where the project cannot be read.
    """
    pictures = Pictures()
    pictures.begin()
    held = open_project(project)
    renderer = pictures.renderer_of(held.layout, Bench(ProjectStore(held)))
    if renderer is None:
        return []
    written = []
    with closing(renderer):
        for view in VIEWS:
            path = folder / f"{held.folder.stem}-{view}.png"
            path.write_bytes(renderer.picture(view, *SIZE))
            written.append(path)
    return written


def main(arguments: Sequence[str]) -> int:
    """Write the pictures and say where they are."""
    project, folder = (Path(word) for word in arguments)
    try:
        written = write_pictures(project, folder)
    except (FloorpanError, OSError) as fault:
        sys.stderr.write(f"floorpan: {fault}\n")
        return 2
    sys.stdout.write(("\n".join(f"floorpan: picture: {path}" for path in written) or CANNOT) + "\n")
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
