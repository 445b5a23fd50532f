"""JSON for programs and CSV for spreadsheets."""

import csv
import dataclasses
import io
import json
import math
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.report.made_up import facts, finding, findings, layout, singles
from floorpan.checks.finding import Cure, margin
from floorpan.items.states import state_of
from floorpan.report.csv_report import COLUMNS, csv_bytes, plain
from floorpan.report.json_report import finding_dict, findings_document, json_text, report_document

GOLDEN = Path(__file__).parents[2] / "data" / "reports"
HAND = ("driver-1.hand", "vessel-1")


def read(data: bytes) -> list[dict[str, str]]:
    assert data.startswith(b"\xef\xbb\xbf")
    return list(csv.DictReader(io.StringIO(data.decode("utf-8-sig"), newline="")))


def test_a_finding_as_programs_read_it() -> None:
    told = finding(
        "hand-vessel",
        HAND,
        -5.6,
        state=state_of({"shifter-1.gear": "R"}),
        at_mm=((1.0, 2.0, 3.0), (4.0, 5.0, 6.0)),
        cure=Cure(subject="vessel-1", move_mm=(38.0, 0.0, 0.0)),
    )
    assert finding_dict(told, layout()) == {
        "id": "hand-vessel:driver-1.hand:vessel-1:shifter-1.gear=R",
        "check": "hand-vessel",
        "subjects": ["driver-1.hand", "vessel-1"],
        "state": {"shifter-1.gear": "R"},
        "verdict": "hits",
        "value": -5.6,
        "uncertainty": 2.0,
        "bound": "",
        "unit": "mm",
        "limit": {"at_least": 30.0, "source": "common practice, no source"},
        "at_mm": [[1.0, 2.0, 3.0], [4.0, 5.0, 6.0]],
        "cure": {
            "text": "Bottle 38 mm rearward would clear it.",
            "subject": "vessel-1",
            "move_mm": [38.0, 0.0, 0.0],
        },
    }


def test_limits_of_every_sense() -> None:
    assert finding_dict(finding("stands", ("shifter-1",), 1.0), layout())["limit"] == {
        "at_most": 3.0,
        "source": "default, edit me",
    }
    elbow = finding_dict(finding("elbow", HAND, 90.0), layout())["limit"]
    assert elbow == {"between": [75.0, 160.0], "source": "common practice, no source"}


@pytest.mark.parametrize("verdict", ["unseen", "pending"])
def test_what_is_not_known_is_null(verdict: str) -> None:
    told = finding("hand-vessel", HAND, 12.0, verdict=verdict)
    assert finding_dict(told, layout())["value"] is None
    [row] = read(csv_bytes([told], layout()))
    assert row["value"] == ""
    assert row["margin"] == ""


def test_no_number_is_ever_nan() -> None:
    odd = finding(
        "hand-vessel", HAND, math.inf, verdict="clear", at_mm=((math.nan, 0.0, 0.0), (0.0, 0.0, -0.0))
    )
    told = json_text(findings_document(layout(), [odd]))
    assert "NaN" not in told
    assert "Infinity" not in told
    assert "-0.0" not in told
    assert json.loads(told)["findings"][0]["value"] is None


def test_the_document_holds_every_finding_worst_first() -> None:
    told = json.loads(json_text(findings_document(layout(), findings())))
    assert set(told) == {"format", "project", "counts", "pair_counts", "findings"}
    assert (told["format"], told["project"]) == (1, "Tin coupe")
    assert {one["id"] for one in told["findings"]} == {one.id for one in findings()}
    assert told["findings"][0]["verdict"] == "hits"


def test_the_report_adds_what_it_rests_on() -> None:
    told = report_document(layout(), findings(), facts(layout()))
    assert told["scan_uncertainty_mm"] == 1.5
    assert told["counts"]["hits"] == 2
    assert told["accepted"][0]["look_again"] is True
    assert {one["id"] for one in told["placed"]} == {thing.id for thing in layout().things()}


def test_json_as_it_was_read_over() -> None:
    """Pinned from our own output, after reading it against the form that was agreed."""
    told = json_text(report_document(layout(), singles(), facts(layout())))
    assert told == (GOLDEN / "small.json").read_text(encoding="utf-8")


def test_csv_as_it_was_read_over() -> None:
    """Pinned from our own output, after reading it in a table."""
    told = csv_bytes(singles(), layout())
    assert told.count(b"\r\n") == told.count(b"\n")
    assert told.replace(b"\r\n", b"\n") == (GOLDEN / "small.csv").read_bytes()


def test_csv_numbers_are_the_findings_own() -> None:
    held = {one.id: one for one in findings()}
    told = read(csv_bytes(findings(), layout()))
    assert len(told) == len(held)
    for row in told:
        one = held[row["id"]]
        if one.value is not None:
            assert float(row["value"]) == pytest.approx(one.value, abs=1e-4)
            assert float(row["margin"]) == pytest.approx(margin(one.value, one.limit), abs=1e-4)
        assert float(row["uncertainty"]) == pytest.approx(one.uncertainty, abs=1e-4)
        assert tuple(row) == COLUMNS


def test_names_that_look_like_formulas_stay_names() -> None:
    name = '=HYPERLINK("http://x","y")'
    items = tuple(dataclasses.replace(item, name=name) for item in layout().items)
    told = read(csv_bytes(findings(), layout(items=items, title="@SUM(A1)")))
    numbers = ("value", "uncertainty", "wanted", "wanted_at_most", "margin", "x_mm", "y_mm", "z_mm")
    for row in told:
        for column, cell in row.items():
            if column not in numbers and not column.startswith("other_"):
                assert not cell.startswith(("=", "+", "-", "@"))


@given(st.text(max_size=20))
def test_no_text_starts_a_formula(text: str) -> None:
    told = plain(text)
    assert not told.lstrip(" ").startswith(("=", "+", "-", "@", "\t", "\r"))
    assert told in (text, f"'{text}")


def test_a_negative_number_is_a_number() -> None:
    [row] = read(csv_bytes([finding("hand-vessel", HAND, -5.6)], layout()))
    assert row["value"] == "-5.6"
