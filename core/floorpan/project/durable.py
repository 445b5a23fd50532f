"""Files that are whole or not there: written beside, flushed to the disk, then put in place.

A writer that opens the real file leaves a torn one when the power goes; replacing never does.
"""

import contextlib
import errno
import os
import secrets
import stat
import time
from collections.abc import Iterator
from pathlib import Path

from floorpan.errors import NotSaved, ProjectDamaged

_TEMPORARY = ".writing-"
_ENDING = ".tmp"
# On one system a file that a virus scanner or an indexer reads cannot be replaced; such a hold is short.
_WAITS_S = (0.01, 0.02, 0.05, 0.1, 0.2, 0.4, 0.8)
_FULL = {errno.ENOSPC, errno.EDQUOT, errno.EFBIG}
_FORBIDDEN = {errno.EACCES, errno.EPERM, errno.EROFS}
_BINARY: int = getattr(os, "O_BINARY", 0)


def write_whole(path: Path, data: bytes) -> None:
    """Put a file in place, whole; raises NotSaved, and what stood there before is untouched."""
    with saving(path):
        temporary = temporary_beside(path)
        try:
            with open_new(temporary) as file:
                write_all(file, data)
                os.fsync(file)
            put_in_place(temporary, path)
        finally:
            temporary.unlink(missing_ok=True)


def temporary_beside(path: Path) -> Path:
    """A name in the same folder that nobody has, short whatever the name is."""
    return path.parent / f"{_TEMPORARY}{os.getpid()}-{secrets.token_hex(4)}{_ENDING}"


@contextlib.contextmanager
def open_new(path: Path) -> Iterator[int]:
    """A file descriptor for writing a file that must not exist yet."""
    file = os.open(path, os.O_WRONLY | os.O_CREAT | os.O_EXCL | _BINARY, 0o666)
    try:
        yield file
    finally:
        os.close(file)


def write_all(file: int, data: bytes) -> None:
    """Write every byte to a file descriptor."""
    left = memoryview(data)
    while left:
        left = left[os.write(file, left) :]


def put_in_place(temporary: Path, path: Path) -> None:
    """Replace `path`, waiting while another process holds it, and flush the folder where the system can."""
    for wait in (*_WAITS_S, None):
        try:
            os.replace(temporary, path)
            break
        except PermissionError:
            if wait is None:
                raise
            time.sleep(wait)
    _flush_folder(path.parent)


def sweep(folder: Path) -> None:
    """Remove what writers that were cut short have left in a folder."""
    for left in folder.glob(f"{_TEMPORARY}*{_ENDING}"):
        left.unlink(missing_ok=True)


@contextlib.contextmanager
def saving(path: Path) -> Iterator[None]:
    """Turn a refusal of the system into NotSaved, which says what to do."""
    try:
        yield
    except OSError as fault:
        if fault.errno in _FULL:
            what, remedy = "The disk is full", "Free some room, then save again."
        elif fault.errno in _FORBIDDEN:
            what, remedy = "The folder takes no files", "Let it be written to, or save the project elsewhere."
        else:
            why = fault.strerror or type(fault).__name__
            what, remedy = f"The system refused ({why})", "Look at the disk, then save again."
        raise NotSaved(
            "not-saved",
            f"{what}: {path.name} was not saved; what stood there before is untouched.",
            remedy,
            path=str(path),
            errno=fault.errno,
        ) from fault


def read_inside(folder: Path, path: Path, most_bytes: int) -> bytes | None:
    """The bytes of a plain file in a project folder, None where there is none.

    Raises ProjectDamaged for a link that leads out, for what is no plain file, and for what the system does
    not let through. At most most_bytes + 1 bytes are read, so that the caller can tell a longer file.
    """
    check_inside(folder, path)
    try:
        with path.open("rb") as file:
            return file.read(most_bytes + 1)
    except FileNotFoundError:
        return None
    except OSError as fault:
        raise ProjectDamaged(
            "project-unreadable",
            f"{path.name} cannot be read ({fault.strerror or type(fault).__name__}).",
            "Look at its permissions, or copy the project folder to another place.",
            path=str(path),
        ) from fault


def check_inside(folder: Path, path: Path) -> None:
    """Raise ProjectDamaged unless path is missing, or a plain file of the folder with no link on the way."""
    if leads_out(folder, path):
        raise ProjectDamaged(
            "leads-outside",
            f"{path.name} is a link; a project reads and writes its own folder only.",
            "Put the file itself there.",
            path=str(path),
        )
    try:
        found = path.lstat()
    except (FileNotFoundError, NotADirectoryError):
        return
    except OSError as fault:
        raise ProjectDamaged(
            "project-unreadable",
            f"{path.name} cannot be reached.",
            "Look at its permissions.",
            path=str(path),
        ) from fault
    if not stat.S_ISREG(found.st_mode):
        raise ProjectDamaged(
            "no-plain-file",
            f"{path.name} is no plain file.",
            "Move it out of the project folder.",
            path=str(path),
        )


def leads_out(folder: Path, path: Path) -> bool:
    """Whether a path under the folder is a link, or has a link on its way from the folder."""
    straight = os.path.join(os.path.realpath(folder), path.relative_to(folder))
    return os.path.islink(path) or os.path.normcase(os.path.realpath(path)) != os.path.normcase(straight)


def _flush_folder(folder: Path) -> None:
    flag = getattr(os, "O_DIRECTORY", None)
    if flag is None:
        return
    file = os.open(folder, os.O_RDONLY | flag)
    try:
        os.fsync(file)
    except OSError as fault:
        # Some network and user-space file systems have no such thing; the file itself is flushed already.
        if fault.errno not in (errno.EINVAL, errno.ENOTSUP, errno.ENOSYS):
            raise
    finally:
        os.close(file)
