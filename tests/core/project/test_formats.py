"""Files that older versions wrote open for ever. A new format gets a new golden file; no old one is touched."""

import json
from pathlib import Path
from typing import Any

import pytest

from floorpan.project.document import parse_document, print_document
from floorpan.project.migrations import FORMAT

FORMATS = Path(__file__).parents[2] / "data" / "formats"


def test_every_format_has_its_file() -> None:
    assert {path.name for path in FORMATS.glob("v*.json")} == {
        f"v{number}.json" for number in range(1, FORMAT + 1)
    }


@pytest.mark.parametrize("number", range(1, FORMAT + 1))
def test_a_file_of_old_opens_with_everything_in_it(number: int) -> None:
    document = parse_document((FORMATS / f"v{number}.json").read_bytes(), f"v{number}.json")
    layout = document.layout
    assert layout.title == "Blechkupee, zweiter Versuch"
    assert document.saved.isoformat() == "2026-05-04T12:00:00.250000+00:00"
    assert [thing.id for thing in layout.things()] == [
        *("seat-1", "shifter-1", "cup_holder-1", "vessel-1", "console-1")
    ]
    (scan,) = layout.scans
    assert scan.pose is not None
    assert scan.pose.apply(scan.pose.inverse().apply([1.0, 2.0, 3.0])) == pytest.approx([1.0, 2.0, 3.0])
    assert (scan.picks[1].partner, scan.areas[1].stands_for) == ("C", "seat-1")
    assert {change.id: (change.value, change.upper) for change in layout.limits} == {
        "hand-scan": (20.0, None),
        "elbow": (80.0, 150.0),
    }
    assert layout.before.knob_mm == (600.0, 10.0, 420.0)
    assert [(one.id, one.name) for one in layout.unknown] == [("ashtray-3", "Armlehne")]
    assert [one.original_name for one in document.imports] == ["Boden 1.stl"]


def test_nothing_of_todays_format_is_lost_in_a_save() -> None:
    """Keys may join, with their defaults; what stands in the file stays, in its place."""
    text = (FORMATS / f"v{FORMAT}.json").read_bytes()
    before = json.loads(text)
    after = json.loads(print_document(parse_document(text, "v.json")))
    before["floorpan"] = after["floorpan"]
    # A thing of an unknown kind goes back behind the known ones of its list.
    before["layout"]["consoles"].append(before["layout"]["consoles"].pop(0))
    assert list(lost(before, after)) == []


def lost(before: Any, after: Any, place: str = "") -> list[str]:
    """Where something that stood in one document is missing or different in another."""
    if isinstance(before, dict) and isinstance(after, dict):
        return [
            found
            for key, value in before.items()
            for found in (lost(value, after[key], f"{place}.{key}") if key in after else [f"{place}.{key}"])
        ]
    if isinstance(before, list) and isinstance(after, list) and len(before) == len(after):
        pairs = enumerate(zip(before, after, strict=True))
        return [found for index, (one, other) in pairs for found in lost(one, other, f"{place}[{index}]")]
    return [] if before == after else [place]
