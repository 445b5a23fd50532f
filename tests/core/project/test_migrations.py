from typing import Any

import pytest

from floorpan.errors import ProjectDamaged, ProjectNewer
from floorpan.project.migrations import FORMAT, MIGRATIONS, migrate


def _rename(document: dict[str, Any]) -> dict[str, Any]:
    return {"format": 2, "carpet_mm": document["carpet"]}


def _add(document: dict[str, Any]) -> dict[str, Any]:
    return {**document, "format": 3, "side": "left"}


STEPS = {1: _rename, 2: _add}


def test_an_old_document_goes_through_every_step() -> None:
    assert migrate({"format": 1, "carpet": 12}, "p", to=3, steps=STEPS) == {
        "format": 3,
        "carpet_mm": 12,
        "side": "left",
    }
    assert migrate({"format": 2, "carpet_mm": 9}, "p", to=3, steps=STEPS)["side"] == "left"
    assert migrate({"format": 3}, "p", to=3, steps=STEPS) == {"format": 3}


def test_a_newer_document_is_refused_with_both_numbers() -> None:
    with pytest.raises(ProjectNewer) as caught:
        migrate({"format": FORMAT + 3}, "project.json")
    assert (caught.value.facts["found"], caught.value.facts["reads"]) == (FORMAT + 3, FORMAT)
    assert caught.value.remedy


@pytest.mark.parametrize("found", [None, True, 0, -1, 1.0, "1", [1]])
def test_a_format_is_a_number_from_one(found: object) -> None:
    with pytest.raises(ProjectDamaged):
        migrate({"format": found}, "project.json")


@pytest.mark.parametrize("document", [[], "text", 3, None])
def test_a_document_is_a_group_of_named_values(document: Any) -> None:
    with pytest.raises(ProjectDamaged, match="holds no project"):
        migrate(document, "project.json")


def test_a_format_without_a_way_up_is_refused() -> None:
    with pytest.raises(ProjectDamaged, match="format 1 is too old"):
        migrate({"format": 1}, "project.json", to=3, steps={2: _add})


def test_every_old_format_has_its_step() -> None:
    assert set(MIGRATIONS) == set(range(1, FORMAT))
