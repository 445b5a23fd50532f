"""No modules import each other in a ring of any size, and hiding an import in a function does not help."""

from pathlib import Path

import pytest

from contract.imports import all_imports, rings
from contract.sources import APP, CORE, made_up, modules


@pytest.mark.parametrize("package", [CORE, APP], ids=["core", "app"])
def test_there_is_no_ring(package: Path) -> None:
    assert rings(all_imports(modules(package))) == []


def test_a_ring_of_three_is_found() -> None:
    ring = [
        made_up("floorpan.a", "def late():\n    from floorpan import b"),
        made_up("floorpan.b", "from .c import thing"),
        made_up("floorpan.c", "import floorpan.a"),
        made_up("floorpan.d", "from floorpan.a import thing"),
    ]
    assert rings(all_imports(ring)) == [("floorpan.a", "floorpan.b", "floorpan.c")]


def test_a_package_and_its_part_make_a_ring() -> None:
    ring = [
        made_up("floorpan.items", "from .seat import Seat", is_package=True),
        made_up("floorpan.items.seat", "from floorpan.items import KINDS"),
    ]
    assert rings(all_imports(ring)) == [("floorpan.items", "floorpan.items.seat")]


def test_a_chain_is_no_ring() -> None:
    chain = [made_up("floorpan.a", "from . import b"), made_up("floorpan.b", "import numpy")]
    assert rings(all_imports(chain)) == []
