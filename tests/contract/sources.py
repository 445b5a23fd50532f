"""The project's own files, read once, for the tests that judge them."""

import ast
import os
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from pathlib import Path

TOP = Path(__file__).resolve().parents[2]
CORE = TOP / "core" / "floorpan"
APP = TOP / "app" / "floorpan_app"
ASSETS = TOP / "assets" / "floorpan_assets"
SCRIPTS = ("app/run", "app/set_up.py", "tests/run")

NOT_OURS = {".git", ".venv", "build", "dist", "__pycache__"}


@dataclass(frozen=True, slots=True, kw_only=True)
class Module:
    """A Python file and the name it is imported by."""

    name: str
    path: Path
    text: str
    is_package: bool = False

    @property
    def tree(self) -> ast.Module:
        return parsed(self.text)

    @property
    def where(self) -> str:
        return self.path.relative_to(TOP).as_posix() if self.path.is_relative_to(TOP) else str(self.path)


@cache
def parsed(text: str) -> ast.Module:
    return ast.parse(text)


def made_up(name: str, text: str, *, is_package: bool = False) -> Module:
    """A module that is not on disk, to show that a check finds what it looks for."""
    return Module(name=name, path=Path("made_up.py"), text=text, is_package=is_package)


def read_module(path: Path, root: Path) -> Module:
    parts = path.relative_to(root).with_suffix("").parts
    is_package = parts[-1] == "__init__"
    name = ".".join(parts[:-1] if is_package else parts)
    return Module(name=name, path=path, text=path.read_text(encoding="utf-8"), is_package=is_package)


@cache
def modules(package: Path) -> tuple[Module, ...]:
    """Every module of a package on disk."""
    return tuple(read_module(path, package.parent) for path in sorted(package.rglob("*.py")))


@cache
def every_python_file() -> tuple[Module, ...]:
    """Every Python file of the project: packages, tests, stubs and the scripts without a suffix."""
    return tuple(
        Module(name=path.stem, path=path, text=path.read_text(encoding="utf-8"))
        for path in project_files()
        if path.suffix in (".py", ".pyi") or path.relative_to(TOP).as_posix() in SCRIPTS
    )


@cache
def project_files() -> tuple[Path, ...]:
    """Every file of the project, without what is made by running it."""
    return tuple(sorted(walk(TOP)))


def walk(folder: Path) -> Iterator[Path]:
    for here, folders, files in os.walk(folder):
        kept = [name for name in folders if name not in NOT_OURS and not is_made(Path(here, name))]
        folders[:] = kept
        yield from (Path(here, name) for name in files if not name.endswith((".lock", ".pyc")))


def is_made(folder: Path) -> bool:
    """Whether a folder is made by a program: a cache, an environment, a record of an installation."""
    name = folder.name
    return name.endswith(("_cache", ".egg-info")) or name == ".hypothesis" or (folder / "pyvenv.cfg").exists()


def docstrings(tree: ast.AST) -> set[int]:
    """The ids of the nodes that are documentation: bare strings, as they stand after a def, class or name."""
    return {
        id(node.value)
        for node in ast.walk(tree)
        if isinstance(node, ast.Expr) and isinstance(node.value, ast.Constant)
    }
