"""Folders, files and classes say what they hold; the names that could hold anything are not used."""

import ast
import re
from collections.abc import Iterable, Iterator
from pathlib import Path, PurePosixPath

from contract.sources import TOP, Module, every_python_file, made_up, project_files

SAY_NOTHING = {"util", "utils", "utility", "utilities", "helper", "helpers", "common", "manager", "managers"}
SAY_NOTHING_ALONE = SAY_NOTHING | {"base", "misc", "stuff"}


def path_faults(path: PurePosixPath) -> Iterator[str]:
    for part in path.parts:
        stem = part.split(".")[0].lower()
        if stem in SAY_NOTHING_ALONE or SAY_NOTHING & set(re.split(r"[_\-]", stem)):
            yield f"{path}: {part}"


def class_faults(modules: Iterable[Module]) -> Iterator[str]:
    for module in modules:
        for node in ast.walk(module.tree):
            if isinstance(node, ast.ClassDef):
                words = {word.lower() for word in re.findall(r"[A-Z][a-z]*", node.name)}
                if words & (SAY_NOTHING | {"base"}):
                    yield f"{module.where}:{node.lineno} {node.name}"


def test_no_file_or_folder_has_an_empty_name() -> None:
    paths = [PurePosixPath(path.relative_to(TOP).as_posix()) for path in project_files()]
    assert [fault for path in paths for fault in path_faults(path)] == []


def test_no_class_has_an_empty_name() -> None:
    assert list(class_faults(every_python_file())) == []


def test_an_empty_name_is_found() -> None:
    for path in (
        "core/floorpan/utils.py",
        "app/common/x.py",
        "core/mesh_helpers.py",
        "core/floorpan/base.py",
    ):
        assert len(list(path_faults(PurePosixPath(path)))) == 1, path
    assert list(path_faults(PurePosixPath("core/floorpan/items/shifter_base.py"))) == []
    text = "class SceneManager: ...\nclass BaseItem: ...\nclass Baseline: ..."
    assert len(list(class_faults([made_up("a", text)]))) == 2


def test_every_folder_that_holds_code_is_a_package() -> None:
    """A folder without `__init__.py` would be left out of the installed program without a word."""
    homes = {
        path.parent for part in ("core", "app", "assets") for path in (TOP / part).glob("floorpan*/**/*.py")
    }
    assert [home for home in sorted(homes) if not Path(home, "__init__.py").exists()] == []
