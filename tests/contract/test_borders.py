"""What each part may reach for outside the project, by reading it and by importing it."""

import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import pytest

from contract.imports import Import, all_imports
from contract.sources import APP, ASSETS, CORE, TOP, Module, made_up, modules

CORE_NEEDS = {
    "numpy",
    "scipy",
    "trimesh",
    "fcl",
    "igl",
    "manifold3d",
    "shapely",
    "fast_simplification",
    "mapbox_earcut",
    "ezdxf",
    "reportlab",
    "pye57",
}
TOOLKIT = {"PySide6", "shiboken6", "qtpy"}
PICTURES = {"pyvista", "pyvistaqt", "vtkmodules"}
NEVER_IN_CORE = sorted(TOOLKIT | PICTURES | {"vtk", "matplotlib", "floorpan_app"})


def outside(edge: Import) -> bool:
    return edge.imported.split(".")[0] not in sys.stdlib_module_names


def core_fault(edge: Import) -> bool:
    root = edge.imported.split(".")[0]
    # The sample is the truth the rest is measured against: with the same libraries it would prove nothing.
    allowed = {"numpy"} if edge.importer.startswith("floorpan.sample") else CORE_NEEDS
    return outside(edge) and root not in {"floorpan", "floorpan_assets", *allowed}


def app_fault(edge: Import) -> bool:
    root = edge.imported.split(".")[0]
    allowed = {"floorpan", "floorpan_app", "floorpan_assets", "numpy", "scipy"}
    if not edge.importer.startswith("floorpan_app.tools"):
        allowed |= TOOLKIT - {"qtpy"}
    if edge.importer.startswith("floorpan_app.viewport"):
        allowed |= PICTURES
    return outside(edge) and root not in allowed


def assets_fault(edge: Import) -> bool:
    return edge.importer.startswith("floorpan_assets")


def faults(found: list[Import], is_fault: Callable[[Import], bool]) -> list[str]:
    return [str(edge) for edge in found if is_fault(edge)]


@pytest.mark.parametrize(
    ("package", "is_fault"),
    [(CORE, core_fault), (APP, app_fault), (ASSETS, assets_fault)],
    ids=["core", "app", "assets"],
)
def test_no_part_reaches_too_far(package: Path, is_fault: Callable[[Import], bool]) -> None:
    assert faults(all_imports(modules(package)), is_fault) == []


@pytest.mark.parametrize(
    ("module", "is_fault"),
    [
        (made_up("floorpan.scan.read", "def show():\n    import pyvista"), core_fault),
        (made_up("floorpan.report.page", "from PySide6 import QtCore"), core_fault),
        (made_up("floorpan.cli", "import floorpan_app.main"), core_fault),
        (made_up("floorpan.sample.cabin", "import trimesh"), core_fault),
        (made_up("floorpan_app.cards.scan", "from vtkmodules import vtkCommonCore"), app_fault),
        (made_up("floorpan_app.viewport.scene", "import vtk"), app_fault),
        (made_up("floorpan_app.window.shell", "from pyvistaqt import QtInteractor"), app_fault),
        (made_up("floorpan_app.tools.move", "from PySide6.QtCore import Qt"), app_fault),
        (made_up("floorpan_assets", "import os", is_package=True), assets_fault),
    ],
    ids=lambda value: value.name if isinstance(value, Module) else "",
)
def test_a_part_that_reaches_too_far_is_found(module: Module, is_fault: Callable[[Import], bool]) -> None:
    assert len(faults(all_imports([module]), is_fault)) == 1


def loaded_by(names: list[str], unwanted: list[str], *, on_path: str = "") -> list[str]:
    """Which of the unwanted modules are there after importing the named ones in a process of their own."""
    code = (
        "import importlib, sys\n"
        f"sys.path.insert(0, {on_path!r}) if {on_path!r} else None\n"
        f"for name in {names!r}: importlib.import_module(name)\n"
        f"print(*[name for name in {unwanted!r} if name in sys.modules])\n"
    )
    done = subprocess.run([sys.executable, "-c", code], cwd=TOP, capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stderr
    return done.stdout.split()


def test_importing_the_whole_core_loads_no_window_and_no_picture() -> None:
    names = [module.name for module in modules(CORE) if not module.name.endswith("__main__")]
    assert loaded_by(names, NEVER_IN_CORE) == []


def test_importing_the_tools_loads_no_toolkit() -> None:
    names = [module.name for module in modules(APP) if module.name.startswith("floorpan_app.tools")]
    assert loaded_by(names, sorted(TOOLKIT | PICTURES)) == []


def test_a_loaded_toolkit_is_seen(tmp_path: Path) -> None:
    (tmp_path / "made_up_part.py").write_text("import PySide6.QtCore\n")
    assert loaded_by(["made_up_part"], NEVER_IN_CORE, on_path=str(tmp_path)) == ["PySide6", "shiboken6"]
