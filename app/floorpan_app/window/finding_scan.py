"""A scan file that went missing, found again: only the very same bytes will do."""

import hashlib
from pathlib import Path

from floorpan.errors import UnreadableScan
from floorpan.progress import Step, Work, part
from floorpan.project.folder import Project, import_scan
from floorpan_app import messages

_CHUNK = 1 << 22


def finding_again(project: Project, sha256: str, source: Path) -> Work[Project]:
    """Copy the missing scan into the project; returns the project that has it.

    Raises UnreadableScan for another file, and what `import_scan` raises. Another scan is never copied.
    """
    if (yield from part(_hashing(source), 0.0, 0.5)) != sha256:
        what, remedy = messages.OTHER_SCAN
        raise UnreadableScan("other-scan", what.format(name=source.name), remedy)
    after, _ = yield from part(import_scan(project, source), 0.5, 1.0)
    return after


def _hashing(source: Path) -> Work[str]:
    digest, done = hashlib.sha256(), 0
    try:
        size = max(source.stat().st_size, 1)
        with source.open("rb") as file:
            while piece := file.read(_CHUNK):
                digest.update(piece)
                done += len(piece)
                yield Step(min(done / size, 1.0), messages.IMPORTING)
    except OSError as fault:
        why = fault.strerror or type(fault).__name__
        what, remedy = messages.NOT_READ
        raise UnreadableScan("no-scan-file", what.format(name=source.name, why=why), remedy) from fault
    return digest.hexdigest()
