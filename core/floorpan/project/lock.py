"""A lock against two windows on one project: a file that names the computer and the process."""

import contextlib
import json
import os
import socket
import sys
from dataclasses import dataclass
from pathlib import Path
from types import TracebackType
from typing import Self

from floorpan.errors import ProjectDamaged, ProjectLocked
from floorpan.project.durable import open_new, read_inside, write_all

LOCK = "project.lock"

_LONGEST_BYTES = 4096


@dataclass(frozen=True, slots=True, kw_only=True)
class Holder:
    """Who holds a project.

    host    : name of the computer
    process : number of the process there
    began   : when that process began, as its system tells it; "" where it does not. Tells a number used again
    """

    host: str
    process: int
    began: str

    @classmethod
    def here(cls) -> Self:
        """This process."""
        return cls(host=socket.gethostname(), process=os.getpid(), began=_began(os.getpid()))

    def is_gone(self) -> bool:
        """Whether it certainly runs no more; never so for another computer."""
        if self.host != socket.gethostname():
            return False
        if not _runs(self.process):
            return True
        now = _began(self.process)
        return "" not in (self.began, now) and now != self.began


class ProjectLock:
    """Held while a window works on a project; as a context it lets go at its end."""

    def __init__(self, path: Path, holder: Holder) -> None:
        self.path = path
        self.holder = holder

    def release(self) -> None:
        """Let go. A lock that somebody else has taken meanwhile stays."""
        # One that stays behind names a process that ends soon: it turns stale and is offered to be taken.
        with contextlib.suppress(OSError, ProjectDamaged):
            if _read(self.path) == self.holder:
                self.path.unlink()

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, value: BaseException | None, trace: TracebackType | None
    ) -> None:
        self.release()


def lock(folder: Path, *, take_stale: bool = False) -> ProjectLock:
    """Lock a project for this process.

    Raises ProjectLocked with facts `host`, `process` and `stale`. A stale lock, left by a process that is
    gone, is taken where take_stale says so; any other can only be looked at, with the project opened
    read-only.
    """
    path = folder / LOCK
    holder = Holder.here()
    if take_stale and is_stale(folder):
        path.unlink(missing_ok=True)
    text = json.dumps({"host": holder.host, "process": holder.process, "began": holder.began})
    try:
        with open_new(path) as file:
            write_all(file, text.encode())
    except FileExistsError:
        raise _locked(folder, _read(path)) from None
    except OSError as fault:
        raise ProjectLocked(
            "folder-read-only",
            f"The project folder takes no files ({fault.strerror or type(fault).__name__}).",
            "Open it to look only, or copy it to where it can be written.",
            host="",
            process=0,
            stale=False,
        ) from fault
    return ProjectLock(path, holder)


def is_stale(folder: Path) -> bool:
    """Whether a lock is there that nobody holds any more; one that names nobody was cut short."""
    if not os.path.lexists(folder / LOCK):
        return False
    holder = _read(folder / LOCK)
    return holder is None or holder.is_gone()


def _locked(folder: Path, holder: Holder | None) -> ProjectLocked:
    if is_stale(folder):
        what = "This project was left open by a window that is gone."
        remedy = "Take it over, or open it to look only."
    else:
        where = f" on {holder.host}" if holder and holder.host != socket.gethostname() else ""
        what = f"This project is open in another window{where}."
        remedy = "Go there and close it, or open it here to look only."
    return ProjectLocked(
        "project-locked",
        what,
        remedy,
        host=holder.host if holder else "",
        process=holder.process if holder else 0,
        stale=is_stale(folder),
    )


def _read(path: Path) -> Holder | None:
    """Who is named in a lock file, None where nobody is."""
    try:
        found = json.loads(read_inside(path.parent, path, _LONGEST_BYTES) or b"")
        return Holder(host=str(found["host"]), process=int(found["process"]), began=str(found["began"]))
    except (ValueError, KeyError, TypeError, RecursionError):
        return None


def _runs(process: int) -> bool:
    if process <= 0:
        return False
    if sys.platform == "win32":
        return _runs_on_windows(process)
    try:
        os.kill(process, 0)
    except (ProcessLookupError, OverflowError):
        return False
    except PermissionError:
        return True
    return True


def _runs_on_windows(process: int) -> bool:
    # os.kill with signal 0 would send the process a Ctrl+C there.
    import ctypes

    query, still_active = 0x1000, 259
    kernel = ctypes.windll.kernel32  # type: ignore[attr-defined]
    handle = kernel.OpenProcess(query, False, process)
    if not handle:
        access_denied = 5
        return bool(kernel.GetLastError() == access_denied)
    code = ctypes.c_ulong()
    kernel.GetExitCodeProcess(handle, ctypes.byref(code))
    kernel.CloseHandle(handle)
    return code.value == still_active


def _began(process: int) -> str:
    """When a process began, in ticks since the named boot; "" on a system that does not tell."""
    try:
        text = Path(f"/proc/{process}/stat").read_text(encoding="utf-8", errors="replace")
        boot = Path("/proc/sys/kernel/random/boot_id").read_text(encoding="ascii").strip()
    except OSError:
        return ""
    # The second field is the program's name in brackets and may hold anything; the 22nd is the start time.
    return f"{boot}/{text.rpartition(')')[2].split()[19]}"
