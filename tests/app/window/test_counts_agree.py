"""The ledger, the Check card, the command line and the report count the same things and come to the same numbers."""

import json
import re
from pathlib import Path

import pytest
from PySide6.QtWidgets import QWidget
from pytestqt.qtbot import QtBot

from core.report.made_up import facts
from floorpan.checks.finding import WORST_FIRST
from floorpan.cli.front import main
from floorpan.report.blocks import Spot
from floorpan.report.content import first_page
from floorpan.report.rows import pair_of
from floorpan_app.cards.check_card import CheckCard
from floorpan_app.widgets.ledger import TITLE
from floorpan_app.window.works import Works


def test_four_places_tell_the_same_numbers(
    qtbot: QtBot, judged: Works, project: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    page, findings = judged.page, judged.session.judging.findings
    assert page is not None
    expected = {}
    for verdict in WORST_FIRST:
        pairs = [pair_of(finding) for finding in findings if finding.verdict == verdict]
        if pairs:
            expected[verdict] = (len(pairs), len(set(pairs)))
    assert len(expected) > 2

    judged.session.desk.go_to("check")
    card = CheckCard(judged.session.desk)
    qtbot.addWidget(card)
    card.show_findings(findings)
    on_card = {row.id: numbers(row.tail) for row in card.rows.rows()}
    assert on_card == expected

    main(["check", str(project)])
    last = capsys.readouterr().out.strip().splitlines()[-1]
    in_words = {part.split()[0].lower(): numbers(part) for part in last.split(",")}
    assert in_words == expected
    main(["check", str(project), "--json"])
    document = json.loads(capsys.readouterr().out)
    read = {
        verdict: (states, document["pair_counts"][verdict])
        for verdict, states in document["counts"].items()
        if states
    }
    assert read == expected

    layout = judged.session.desk.layout
    spot = next(
        block
        for block in first_page(layout, findings, facts(layout), "mm", most_rows=14)
        if isinstance(block, Spot)
    )
    assert spot.second == last

    [head] = [
        child.accessibleName()
        for child in page.column.ledger.findChildren(QWidget)
        if child.accessibleName().startswith(f"{TITLE}: ")
    ]
    failing = sum(expected.get(verdict, (0, 0))[0] for verdict in ("hits", "short"))
    assert head.removeprefix(f"{TITLE}: ").startswith(f"{failing} states fail, ")
    assert f"{expected['close'][0]} close" in head


def numbers(text: str) -> tuple[int, int]:
    """States and pairs, as `1 103 states of 48 pairs` tells them."""
    states, pairs = re.findall(r"(\d[\d\u2009]*) (?:state|pair)", text)
    return int(states.replace("\u2009", "")), int(pairs.replace("\u2009", ""))
