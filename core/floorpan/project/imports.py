"""The very bytes of every scan file, kept in the project under their hash."""

import hashlib
import os
import re
from dataclasses import dataclass
from pathlib import Path
from typing import Annotated, BinaryIO

from floorpan.errors import BadValue, ProjectDamaged, UnreadableScan
from floorpan.fields import Range, Text, check_fields
from floorpan.progress import Step, Work
from floorpan.project.durable import (
    check_inside,
    leads_out,
    open_new,
    put_in_place,
    saving,
    temporary_beside,
    write_all,
)

IMPORTS = "imports"

_CHUNK = 1 << 20
_SHA256 = re.compile(r"[0-9a-f]{64}")
_SUFFIX = re.compile(r"\.[a-z0-9]{1,8}")
_LONGEST_NAME = 260


@dataclass(frozen=True, slots=True, kw_only=True)
class Import:
    """A scan file in the project.

    sha256        : of its bytes, 64 hex digits
    original_name : what it was called where it came from; never used as a path
    suffix        : its ending with the dot, lower case
    size_bytes    : how long it is
    """

    sha256: str
    original_name: Annotated[str, Text(_LONGEST_NAME, "File")]
    suffix: str
    size_bytes: Annotated[int, Range(0, 2**60, "", "Size")]

    def __post_init__(self) -> None:
        check_fields(self)
        if not _SHA256.fullmatch(self.sha256):
            raise BadValue("no-sha256", "A scan is named by 64 hex digits.", "Import the scan again.")
        if not _SUFFIX.fullmatch(self.suffix):
            raise BadValue("no-suffix", f"{self.suffix[:20]!r} is no file ending.", "Import the scan again.")

    @property
    def file_name(self) -> str:
        """Its name in the project: made from the hash, so it cannot lead anywhere else."""
        return f"{self.sha256[:16]}{self.suffix}"


def path_of(folder: Path, one: Import) -> Path:
    """Where a scan file lies in a project folder."""
    return folder / IMPORTS / one.file_name


def copy_in(folder: Path, source: Path) -> Work[Import]:
    """Copy a scan file into the project, hashing on the way; a file that is there already stays.

    Raises UnreadableScan where the source cannot be read, NotSaved where the project cannot be written.
    """
    suffix = source.suffix.lower()
    if not _SUFFIX.fullmatch(suffix):
        raise UnreadableScan(
            "no-suffix",
            f"{source.name} has no ending that says what it is.",
            "Name it after what it is: .stl, .ply, .3mf or .xyz.",
        )
    with saving(folder / IMPORTS):
        (folder / IMPORTS).mkdir(exist_ok=True)
    check_folder(folder)
    temporary = temporary_beside(folder / IMPORTS / source.name)
    try:
        with _opened(source) as file:
            digest, size = yield from _copy(file, temporary, source.name)
        name = source.name.encode("utf-8", "replace").decode("utf-8")
        shown = "".join(sign if ord(sign) >= 32 else "?" for sign in name)[-_LONGEST_NAME:]
        one = Import(sha256=digest, original_name=shown, suffix=suffix, size_bytes=size)
        target = path_of(folder, one)
        check_inside(folder, target)
        with saving(target):
            put_in_place(temporary, target)
    finally:
        temporary.unlink(missing_ok=True)
    return one


def fault_of(folder: Path, one: Import) -> Work[str]:
    """Why a scan file of the project cannot be used: "missing", "changed", or "" where it is as it was."""
    try:
        check_folder(folder)
        path = path_of(folder, one)
        check_inside(folder, path)
        if path.stat().st_size != one.size_bytes:
            return "changed"
        with path.open("rb") as file:
            digest = yield from _hash(file, one.size_bytes, one.original_name)
    except (OSError, ProjectDamaged):
        return "missing"
    return "" if digest == one.sha256 else "changed"


def check_folder(folder: Path) -> None:
    """Raise ProjectDamaged where the folder of scan files is a link that leads out of the project."""
    if leads_out(folder, folder / IMPORTS):
        raise ProjectDamaged(
            "leads-outside",
            f"{IMPORTS} is a link; a project reads and writes its own folder only.",
            "Put the scan files themselves there.",
        )


def _opened(source: Path) -> BinaryIO:
    try:
        if not source.is_file():
            raise UnreadableScan(
                "no-scan-file", f"{source.name} is no file.", "Name a scan file.", path=str(source)
            )
        return source.open("rb")
    except OSError as fault:
        raise _unreadable(source.name, fault) from fault


def _copy(file: BinaryIO, temporary: Path, name: str) -> Work[tuple[str, int]]:
    length = max(os.fstat(file.fileno()).st_size, 1)
    digest, size = hashlib.sha256(), 0
    with saving(temporary.parent), open_new(temporary) as target:
        while chunk := _read(file, name):
            digest.update(chunk)
            write_all(target, chunk)
            size += len(chunk)
            yield Step(min(size / length, 1.0), f"copying {name}")
        os.fsync(target)
    return digest.hexdigest(), size


def _hash(file: BinaryIO, length: int, name: str) -> Work[str]:
    digest, size = hashlib.sha256(), 0
    while chunk := file.read(_CHUNK):
        digest.update(chunk)
        size += len(chunk)
        yield Step(min(size / max(length, 1), 1.0), f"checking {name}")
    return digest.hexdigest()


def _read(file: BinaryIO, name: str) -> bytes:
    try:
        return file.read(_CHUNK)
    except OSError as fault:
        raise _unreadable(name, fault) from fault


def _unreadable(name: str, fault: OSError) -> UnreadableScan:
    why = fault.strerror or type(fault).__name__
    return UnreadableScan("no-scan-file", f"{name} cannot be read ({why}).", "Look at its permissions.")
