"""The core's layers: a higher one imports a lower one, never the reverse; siblings do not know each other."""

import pytest

from contract.imports import Import, all_imports
from contract.sources import CORE, Module, made_up, modules

# Highest first. `floorpan` itself is the face the others stand behind: only the fronts may look at it.
ORDER = """
__main__ > cli > __init__ > sample > project | report > advice > checks > edits | derive > layout > pieces
> console > items | scan | driver > geometry > frames | limits > fields > units > progress | errors
"""
PLACE = {name.strip(): depth for depth, row in enumerate(ORDER.split(">")) for name in row.split("|")}


def layer(name: str) -> str:
    """The layer a module of the core belongs to: the first name after `floorpan`."""
    parts = name.split(".")
    return parts[1] if len(parts) > 1 else "__init__"


def faults(core: list[Module]) -> list[str]:
    unplaced = {module.name for module in core if layer(module.name) not in PLACE}
    told = [f"{name} has no place in the order of layers" for name in sorted(unplaced)]
    for edge in all_imports(core):
        if edge.imported.split(".")[0] == "floorpan" and edge.importer not in unplaced:
            told += judge(edge)
        elif edge.imported == "*":
            told.append(f"{edge.importer}:{edge.line} imports a name worked out at run time")
    return told


def judge(edge: Import) -> list[str]:
    here, there = layer(edge.importer), layer(edge.imported)
    if there not in PLACE:
        return [f"{edge}, which has no place in the order of layers"]
    if here == there or PLACE[here] < PLACE[there]:
        return []
    return [f"{edge}: {there} is {'a sibling of' if PLACE[here] == PLACE[there] else 'above'} {here}"]


def test_the_core_keeps_its_layers() -> None:
    assert faults(list(modules(CORE))) == []


@pytest.mark.parametrize(
    ("name", "text", "fault"),
    [
        ("floorpan.units", "from floorpan.layout import Layout", "above"),
        ("floorpan.units", "def f():\n    import floorpan.layout", "above"),
        ("floorpan.units", "if TYPE_CHECKING:\n    from . import layout", "above"),
        ("floorpan.geometry.rays", "from ..checks.gap import judge", "above"),
        ("floorpan.geometry.rays", "import importlib\nimportlib.import_module('floorpan.scan')", "above"),
        ("floorpan.geometry.rays", "import importlib\nimportlib.import_module(name)", "at run time"),
        ("floorpan.project.store", "import floorpan.report", "sibling"),
        ("floorpan.edits", "from floorpan import derive", "sibling"),
        ("floorpan.scan.read", "from floorpan.driver import arms", "sibling"),
        ("floorpan.items.seat", "from floorpan.scan import floor", "sibling"),
        ("floorpan.errors", "from floorpan.progress import Step", "sibling"),
        ("floorpan.layout", "from floorpan import Layout", "above"),
        ("floorpan.stray", "", "no place"),
        ("floorpan.cli", "import floorpan.stray", "no place"),
    ],
)
def test_a_wrong_import_is_found(name: str, text: str, fault: str) -> None:
    known = [
        made_up(f"floorpan.{module}", "") for module in ("layout", "derive", "driver.arms", "scan.floor")
    ]
    [told] = faults([made_up(name, text), *(module for module in known if module.name != name)])
    assert fault in told


def test_a_right_import_is_left_alone() -> None:
    right = (
        "from floorpan.geometry import rays\nfrom floorpan import units\nfrom .read import mesh\nimport numpy"
    )
    core = [
        made_up("floorpan.scan.floor", right),
        made_up("floorpan.units", ""),
        made_up("floorpan.scan.read", ""),
    ]
    assert faults(core) == []
