"""Sets up what `app/run` and `tests/run` need: the system's libraries and an environment beside the project.

Standard library only, and readable by Python 3.8, so that an older Python can still say what is missing.
The environment is `.venv` at the top of the checkout, or the folder named by FLOORPAN_VENV. A small record in
it says what it was made from; while that still holds, setting up is one look at it.
"""

from __future__ import annotations

import ctypes
import hashlib
import importlib
import importlib.util
import json
import os
import shutil
import subprocess
import sys
from contextlib import contextmanager
from pathlib import Path
from typing import Iterator, NoReturn, Sequence

TOP = Path(__file__).resolve().parent.parent
SUPPORTED = ((3, 11), (3, 12), (3, 13))
HERE = f"{sys.version_info[0]}.{sys.version_info[1]}"
RECORD = "floorpan-set-up.json"
# What each extra of pyproject.toml brings along.
INCLUDED = {"bench": ("bench",), "test": ("bench", "test")}

# What the Qt and VTK wheels load and do not carry: library, then the Debian and Ubuntu package that has it.
WINDOW_LIBRARIES = (
    ("libGL.so.1", "libgl1"),
    ("libEGL.so.1", "libegl1"),
    ("libX11.so.6", "libx11-6"),
    ("libX11-xcb.so.1", "libx11-xcb1"),
    ("libxkbcommon.so.0", "libxkbcommon0"),
    ("libxkbcommon-x11.so.0", "libxkbcommon-x11-0"),
    ("libdbus-1.so.3", "libdbus-1-3"),
    ("libfontconfig.so.1", "libfontconfig1"),
    ("libglib-2.0.so.0", "libglib2.0-0"),
    ("libxcb-cursor.so.0", "libxcb-cursor0"),
    ("libxcb-icccm.so.4", "libxcb-icccm4"),
    ("libxcb-image.so.0", "libxcb-image0"),
    ("libxcb-keysyms.so.1", "libxcb-keysyms1"),
    ("libxcb-randr.so.0", "libxcb-randr0"),
    ("libxcb-render-util.so.0", "libxcb-render-util0"),
    ("libxcb-shape.so.0", "libxcb-shape0"),
    ("libxcb-sync.so.1", "libxcb-sync1"),
    ("libxcb-xfixes.so.0", "libxcb-xfixes0"),
    ("libxcb-xkb.so.1", "libxcb-xkb1"),
)
# Programs, then the package that has them.
TEST_PROGRAMS = (("Xvfb", "xvfb"),)


class CannotSetUp(Exception):
    """What is missing and what to do about it, in words for whoever typed the command."""


def say(line: str) -> None:
    print(f"floorpan: {line}", flush=True)


def answer(command: Sequence[str]) -> str:
    """The one line a command prints; empty where it does not run or fails."""
    try:
        asked = subprocess.run(
            list(command), stdout=subprocess.PIPE, stderr=subprocess.DEVNULL, text=True, check=False
        )
    except OSError:
        return ""
    return asked.stdout.strip() if asked.returncode == 0 else ""


def supported_python() -> str:
    """The Python to build with: this one where it will do, else a supported one found beside it."""
    if sys.version_info[:2] in SUPPORTED:
        return sys.executable
    for major, minor in reversed(SUPPORTED):
        for command in ([f"python{major}.{minor}"], ["py", f"-{major}.{minor}"]):
            found = answer([*command, "-c", "import sys; print(sys.executable)"])
            if found:
                return found
    raise CannotSetUp(f"this is Python {HERE}. Install Python 3.11, 3.12 or 3.13 and run again with it.")


def is_missing(library: str) -> bool:
    try:
        ctypes.CDLL(library)
    except OSError:
        return True
    return False


def missing_packages(programs: Sequence[tuple[str, str]]) -> dict[str, str]:
    """What the system lacks: the package by the thing that was looked for. Linux only; empty elsewhere."""
    if not sys.platform.startswith("linux"):
        return {}
    lacking = {library: package for library, package in WINDOW_LIBRARIES if is_missing(library)}
    lacking.update({name: package for name, package in programs if shutil.which(name) is None})
    # Debian ships Python without the part that puts pip into an environment.
    if importlib.util.find_spec("ensurepip") is None or importlib.util.find_spec("venv") is None:
        lacking["ensurepip"] = f"python{HERE}-venv"
    return lacking


def supply_system(programs: Sequence[tuple[str, str]]) -> None:
    """Install what the system lacks where that is allowed, else say the exact line to type."""
    lacking = missing_packages(programs)
    if not lacking:
        return
    things = ", ".join(sorted(lacking))
    packages = sorted(set(lacking.values()))
    install = ["apt-get", "install", "-y", "--no-install-recommends", *packages]
    if shutil.which("apt-get") is None:
        raise CannotSetUp(
            f"this system lacks {things}. Install them with its package manager and run again.\n"
            f"On Debian the packages are: {' '.join(packages)}"
        )
    if os.geteuid() != 0:
        raise CannotSetUp(
            f"this system lacks {things}. Type this line, then run again:\n\n    sudo {' '.join(install)}\n"
        )
    say(f"installing {len(packages)} system packages (about half a minute): {' '.join(packages)}")
    quietly(["apt-get", "update"], "the list of system packages could not be fetched")
    quietly(install, "the system packages could not be installed")
    importlib.invalidate_caches()
    still = missing_packages(programs)
    if still:
        raise CannotSetUp(f"installed, but still not found: {', '.join(sorted(still))}.")


def quietly(command: Sequence[str], what_failed: str) -> None:
    """Run a command without its chatter; when it fails, its chatter is the explanation."""
    environment = dict(os.environ, DEBIAN_FRONTEND="noninteractive", PYTHONUTF8="1")
    done = subprocess.run(
        list(command),
        cwd=str(TOP),
        env=environment,
        stdin=subprocess.DEVNULL,
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
        check=False,
    )
    if done.returncode != 0:
        told = done.stdout.decode("utf-8", "replace").rstrip()
        raise CannotSetUp(f"{what_failed}. This is what {Path(command[0]).name} said:\n\n{told}")


def environment_folder() -> Path:
    named = os.environ.get("FLOORPAN_VENV")
    return Path(named).expanduser().absolute() if named else TOP / ".venv"


def python_in(folder: Path) -> Path:
    return folder / "Scripts" / "python.exe" if os.name == "nt" else folder / "bin" / "python"


def runs(folder: Path) -> bool:
    """Whether the environment's own Python still starts and is the version at hand."""
    version = "import sys; print('%d.%d' % sys.version_info[:2])"
    return answer([str(python_in(folder)), "-c", version]) == HERE


def made_from(extra: str) -> dict[str, str]:
    """What an environment with this extra is made from; with any difference it has to be made up anew."""
    project = hashlib.sha256((TOP / "pyproject.toml").read_bytes()).hexdigest()
    return {"project": project, "python": HERE, "top": str(TOP), "extra": extra}


def read_record(folder: Path) -> dict[str, str]:
    """What the record in an environment says; empty where there is none or it was cut short."""
    try:
        record = json.loads((folder / RECORD).read_text(encoding="utf-8"))
    except (OSError, ValueError):
        return {}
    return record if isinstance(record, dict) else {}


def write_record(folder: Path, state: str, extra: str) -> None:
    record = dict(made_from(extra), state=state)
    (folder / RECORD).write_text(json.dumps(record, indent=1) + "\n", encoding="utf-8")


def is_ready(folder: Path, extra: str) -> bool:
    record = read_record(folder)
    holds = record == dict(made_from(record.get("extra", "")), state="ready")
    return holds and extra in INCLUDED.get(record["extra"], ()) and runs(folder)


def can_be_kept(folder: Path) -> bool:
    """Whether what stands in the folder can be brought up to date instead of being made anew.

    A record saying "making" means that the making was interrupted: thrown away. No record means that somebody
    made the environment by hand: kept, and never thrown away ("completing" marks it while pip is at work).
    """
    record = read_record(folder)
    if record.get("state") == "making" or not folder.exists():
        return False
    by_hand = record.get("state") != "ready"
    if by_hand and any(folder.iterdir()) and not runs(folder):
        raise CannotSetUp(
            f"{folder} was not made by floorpan and is no environment of Python {HERE}.\n"
            "Move it away, or name another folder in FLOORPAN_VENV."
        )
    return runs(folder) and (by_hand or record.get("top") == str(TOP))


def make_environment(folder: Path, extra: str) -> None:
    """Bring the environment up to what the project asks for, from nothing where that is needed."""
    record = read_record(folder)
    by_hand = record.get("state") in (None, "completing")
    if can_be_kept(folder):
        # What another command already asked for is not taken away again.
        if extra in INCLUDED.get(record.get("extra", ""), ()):
            extra = record["extra"]
        write_record(folder, "completing" if by_hand else "making", extra)
    else:
        if folder.exists():
            say(f"making the environment anew: the one in {folder} cannot be used")
            shutil.rmtree(str(folder))
        folder.mkdir(parents=True)
        write_record(folder, "making", extra)
        quietly([sys.executable, "-m", "venv", str(folder)], "the environment could not be made")
    say(f"installing what floorpan needs into {folder} (one to five minutes the first time)")
    pip = [str(python_in(folder)), "-m", "pip", "install", "--quiet", "--disable-pip-version-check"]
    quietly([*pip, "--editable", f".[{extra}]"], "what floorpan needs could not be installed")
    write_record(folder, "ready", extra)


@contextmanager
def one_at_a_time(folder: Path) -> Iterator[None]:
    """Hold the environment against a second set-up; the system lets go of it when this one dies."""
    folder.parent.mkdir(parents=True, exist_ok=True)
    with open(f"{folder}.lock", "a+b") as held:
        if sys.platform != "win32":
            import fcntl

            try:
                fcntl.flock(held, fcntl.LOCK_EX | fcntl.LOCK_NB)
            except OSError:
                say("another set-up is at work; waiting for it to end")
                fcntl.flock(held, fcntl.LOCK_EX)
        yield


def set_up(extra: str, programs: Sequence[tuple[str, str]] = ()) -> Path:
    """Everything needed, made or found.

    extra    : an extra of pyproject.toml, "bench" or "test"
    programs : (name, Debian package) of programs that must be on the path besides
    Returns  : the environment's Python
    Raises   : CannotSetUp
    """
    supply_system(programs)
    folder = environment_folder()
    if not is_ready(folder, extra):
        with one_at_a_time(folder):
            if not is_ready(folder, extra):
                make_environment(folder, extra)
    return python_in(folder)


def hand_over(python: Path, arguments: Sequence[str]) -> NoReturn:
    """Become the given Python with these arguments; where that cannot be, run it and end as it ends."""
    command = [str(python), *arguments]
    sys.stdout.flush()
    if os.name != "nt":
        os.execv(command[0], command)
    sys.exit(subprocess.call(command))


def begin(extra: str, programs: Sequence[tuple[str, str]] = ()) -> Path:
    """`set_up` for a command: what is missing is told on standard error, and the command ends."""
    try:
        python = supported_python()
        if python != sys.executable:
            hand_over(Path(python), [os.path.abspath(sys.argv[0]), *sys.argv[1:]])
        return set_up(extra, programs)
    except CannotSetUp as problem:
        print(f"floorpan: {problem}", file=sys.stderr)
        sys.exit(1)
    except KeyboardInterrupt:
        print("\nfloorpan: stopped. Run it again to carry on.", file=sys.stderr)
        sys.exit(130)
