from typing import Any

import pytest
from hypothesis import given

from floorpan.errors import ProjectDamaged
from floorpan.layout import KINDS, Layout, Unknown
from floorpan.project.codec import kinds, read_layout, write_layout
from floorpan.project.strict_json import parse, print_json
from floorpan.project.typed_json import Reading
from made_up_layouts import layouts


def read(value: Any) -> Layout:
    return read_layout(value, Reading("project.json"))


@given(layouts())
def test_what_is_saved_is_what_is_opened(layout: Layout) -> None:
    text = print_json(write_layout(layout, {}))
    opened = read(parse(text, "project.json"))
    assert opened == layout
    assert text == print_json(write_layout(opened, {}))


def test_every_kind_that_can_be_placed_has_its_word() -> None:
    assert {record.model for record in KINDS} == set(kinds().values())
    assert all(word == word.lower() and " " not in word for word in kinds())


def test_nothing_is_wanted_of_an_empty_layout() -> None:
    assert read({}) == Layout()


STRANGE = {
    "kind": "ashtray",
    "id": "ashtray-4",
    "name": "Ashtray",
    "lid": {"open_deg": [0, 95.5], "spring": None},
}


@pytest.mark.parametrize("slot", ["items", "seats", "consoles"])
def test_a_thing_of_an_unknown_kind_is_kept_word_for_word(slot: str) -> None:
    layout = read({slot: [STRANGE]})
    (unknown,) = layout.unknown
    assert (unknown.id, unknown.kind, unknown.name) == ("ashtray-4", "ashtray", "Ashtray")
    written: Any = write_layout(layout, {})
    assert written[slot] == [STRANGE]
    assert "unknown" not in written
    assert read(written) == layout


def test_a_thing_of_an_unknown_kind_needs_neither_id_nor_name() -> None:
    layout = read({"items": [{"kind": "lamp", "id": 7}]})
    assert (layout.unknown[0].id, layout.unknown[0].kind, layout.unknown[0].name) == ("", "lamp", "lamp")
    assert write_layout(layout, {})["items"] == [{"kind": "lamp", "id": 7}]


def test_an_unknown_thing_that_was_taken_out_stays_out() -> None:
    assert write_layout(Layout(), {})["items"] == []


def test_a_key_called_unknown_is_a_key_like_any_other() -> None:
    reading = Reading("project.json")
    layout = read_layout({"unknown": [{"id": "x"}]}, reading)
    assert layout.unknown == ()
    assert write_layout(layout, reading.extra)["unknown"] == [{"id": "x"}]


def test_unknown_keys_of_known_things_survive_moves_and_deletions() -> None:
    file = {
        "scans": [{**SCAN, "taken_by": "phone", "areas": [{**AREA, "hue": 120}]}],
        "seats": [{"id": "seat-1", "heated": True}, {"id": "seat-2", "heated": False}],
        "before": {"photo": "old.png"},
        "mood": "good",
    }
    reading = Reading("project.json")
    layout = read_layout(file, reading)
    fewer: Any = write_layout(Layout(scans=layout.scans, seats=layout.seats[1:]), reading.extra)
    assert (fewer["scans"][0]["taken_by"], fewer["scans"][0]["areas"][0]["hue"]) == ("phone", 120)
    assert [(seat["id"], seat["heated"]) for seat in fewer["seats"]] == [("seat-2", False)]
    assert (fewer["before"]["photo"], fewer["mood"]) == ("old.png", "good")


SCAN = {
    "id": "scan-1",
    "name": "Floor",
    "sha256": "0" * 64,
    "suffix": ".ply",
    "original_name": "floor.ply",
    "unit": "mm",
}
AREA = {"id": "scan-1.dash", "kind": "dash", "box": {"least_mm": [0, 0, 0], "greatest_mm": [1, 1, 1]}}
TALL = {"measure": "stature_mm", "size": 2900.0}
PERSON = {"id": "driver-1", "seat_id": "seat-1", "notches_used": [1]}
SEAT = {"id": "seat-1"}


@pytest.mark.parametrize(
    ("file", "place", "word"),
    [
        ([], "layout", "a group of named values"),
        ({"carpet_mm": 41}, "layout", "0 to 40"),
        ({"carpet_mm": "12"}, "layout.carpet_mm", "a number belongs"),
        (
            {"scans": [{**SCAN, "pose": {"rotation": [1, 0, 0, 0, 1, 0, 0, 0, -1]}}]},
            "scans[0].pose",
            "mirrored",
        ),
        ({"scans": [{**SCAN, "unit": "furlong"}]}, "layout.scans[0]", "furlong"),
        ({"accepted": [{"step": "polish", "date": "2026-01-01"}]}, "layout.accepted[0].step", "polish"),
        ({"seats": [SEAT, SEAT]}, "layout", "seat-1 stands 2 times"),
        ({"seats": [{"kind": "shifter", "id": "seat-1"}]}, "layout.seats[0]", "a seat belongs"),
        ({"people": [{"id": "driver-1", "seat_id": "seat-9"}]}, "people[0].seat_id", "no seat seat-9"),
        (
            {"seats": [SEAT], "people": [{**PERSON, "not_taped": ["upper_arm_mm"], "sizes": [TALL]}]},
            "people[0].sizes",
            "does not go with this body",
        ),
        (
            {"seats": [SEAT], "people": [{**PERSON, "sizes": [{"measure": "cubit_mm", "size": 450.0}]}]},
            "people[0].sizes[0]",
            "no measure",
        ),
        (
            {"seats": [SEAT], "people": [{"id": "driver-1", "seat_id": "seat-1", "notches_used": [40]}]},
            "people[0].notches_used",
            "no such notch",
        ),
        (
            {"items": [{"kind": "vessel", "id": "vessel-1", "stands_in": "vessel-1"}]},
            "items[0].stands_in",
            "no cup holder vessel-1",
        ),
    ],
)
def test_a_layout_that_cannot_be_is_refused_with_its_place(file: Any, place: str, word: str) -> None:
    with pytest.raises(ProjectDamaged) as caught:
        read(file)
    assert place in caught.value.what
    assert word in caught.value.what


def test_an_id_that_was_used_is_not_given_again_whatever_the_file_says() -> None:
    layout = read(
        {"seats": [{"id": "seat-7"}], "last_number": [["seat", 2], ["shifter", 5]], "items": [STRANGE]}
    )
    assert dict(layout.last_number) == {"seat": 7, "shifter": 5, "ashtray": 4}


def test_an_unknown_thing_counts_as_one_of_its_id() -> None:
    with pytest.raises(ProjectDamaged, match="2 times"):
        read({"items": [STRANGE, STRANGE]})
    assert isinstance(read({"items": [STRANGE]}).unknown[0], Unknown)
