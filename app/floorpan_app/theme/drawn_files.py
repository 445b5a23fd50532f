"""Icons as files, for the one place that takes nothing else: pictures named in a stylesheet.

They live in a folder of this process and go with it.
"""

import atexit
import shutil
import tempfile
from functools import cache
from pathlib import Path

from floorpan_app.theme.icons import coloured_drawing


@cache
def _folder() -> Path:
    folder = Path(tempfile.mkdtemp(prefix="floorpan-look-"))
    atexit.register(shutil.rmtree, folder, ignore_errors=True)
    return folder


@cache
def drawing_file(name: str, colour: str) -> str:
    """Path, with forward slashes, of icon `name` drawn in `colour`."""
    path = _folder() / f"{name}-{colour.lstrip('#').lower()}.svg"
    path.write_text(coloured_drawing(name, colour), encoding="utf-8")
    return path.as_posix()
