"""The page of HTML: the same content, escaped, whole in itself."""

import dataclasses
import re
from html.parser import HTMLParser
from pathlib import Path
from xml.etree import ElementTree

import pytest

from core.report.made_up import GEARS, facts, finding, findings, layout, many, png
from floorpan.checks.finding import Finding
from floorpan.items.states import state_of
from floorpan.layout import Layout
from floorpan.report import paper_words as said
from floorpan.report.cautions import first_line
from floorpan.report.documents import write_report
from floorpan.report.facts import EDITIONS, Edition, ReportFacts
from floorpan.report.rows import rows

EMPTY = {"meta", "br", "img"}
HOSTILE = '<img src=x onerror="alert(1)">&"\'</title><script>alert(2)</script>'


class Page(HTMLParser):
    """What a page holds: its tags with their attributes, its text, and whether every tag was closed."""

    def __init__(self, text: str) -> None:
        super().__init__()
        self.tags: list[tuple[str, dict[str, str | None]]] = []
        self.texts: list[str] = []
        self._open: list[str] = []
        self.feed(text)
        self.close()
        assert self._open == []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append((tag, dict(attrs)))
        if tag not in EMPTY:
            self._open.append(tag)

    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append((tag, dict(attrs)))

    def handle_endtag(self, tag: str) -> None:
        assert self._open.pop() == tag

    def handle_data(self, data: str) -> None:
        if self._open and self._open[-1] not in ("style", "script"):
            self.texts.append(data)

    @property
    def text(self) -> str:
        return " ".join("".join(self.texts).split())


def page(folder: Path, held: Layout, told: tuple[Finding, ...], known: ReportFacts) -> tuple[str, Page]:
    path = folder / "fit.html"
    write_report(path, held, told, known)
    text = path.read_text(encoding="utf-8")
    return text, Page(text)


def test_every_finding_is_told(tmp_path: Path) -> None:
    _, read = page(tmp_path, layout(), findings(), facts(layout()))
    for row in rows(findings(), layout()):
        assert row.sentence in read.text
        assert row.second in read.text
    assert first_line(layout()) in read.text


def test_it_needs_nothing_from_elsewhere(tmp_path: Path) -> None:
    known = facts(layout(), pictures=(("From above", png()),))
    text, read = page(tmp_path, layout(), findings(), known)
    assert not {tag for tag, _ in read.tags} & {"script", "link", "iframe", "object", "embed", "form", "base"}
    for _, held in read.tags:
        for name, value in held.items():
            assert not name.startswith("on")
            if name in ("src", "href", "xlink:href", "data", "action"):
                assert (value or "").startswith(("data:image/png;base64,", "#"))
    assert "url(" not in text
    assert "@import" not in text
    assert "default-src 'none'" in text


def test_hostile_names_stay_text(tmp_path: Path) -> None:
    short = HOSTILE[:60]
    items = tuple(dataclasses.replace(item, name=short) for item in layout().items)
    accepted = tuple(dataclasses.replace(one, reason=HOSTILE) for one in layout().accepted)
    held = layout(title=HOSTILE, items=items, accepted=accepted)
    told = tuple(dataclasses.replace(one, met=HOSTILE, note=HOSTILE) for one in findings())
    known = facts(held, project=HOSTILE, layout_version=HOSTILE, pictures=((HOSTILE, png()),))
    _, read = page(tmp_path, held, told, known)
    names = [tag for tag, _ in read.tags]
    assert "script" not in names
    assert names.count("img") == 1
    assert all(not name.startswith("on") for _, attributes in read.tags for name in attributes)
    assert HOSTILE in read.text


def test_the_drawings_are_well_formed_and_named(tmp_path: Path) -> None:
    text, _ = page(tmp_path, layout(), findings(), facts(layout()))
    drawn = re.findall(r"<svg.*?</svg>", text, flags=re.DOTALL)
    assert len(drawn) > len(findings())
    for one in drawn:
        root = ElementTree.fromstring(one)
        assert root.get("aria-hidden") == "true" or root.get("aria-label")
    # Three views, a section, and the opening in true size.
    assert text.count("<figure>") == 5


def test_a_verdict_in_a_cell_is_read_out(tmp_path: Path) -> None:
    _, read = page(tmp_path, layout(), findings(), facts(layout()))
    labels = [held.get("aria-label") for tag, held in read.tags if tag == "svg"]
    assert {"hits", "short", "unseen", "close", "clear"} <= set(labels)


@pytest.mark.parametrize("count", [0, 400])
def test_few_and_many(tmp_path: Path, count: int) -> None:
    _, read = page(tmp_path, layout(), many(count), facts(layout()))
    for row in rows(many(count), layout()):
        assert row.sentence in read.text


def test_the_same_page_is_the_same_bytes(tmp_path: Path) -> None:
    for name in ("a.html", "b.html"):
        write_report(tmp_path / name, layout(), findings(), facts(layout()))
    assert (tmp_path / "a.html").read_bytes() == (tmp_path / "b.html").read_bytes()


@pytest.mark.parametrize("edition", EDITIONS)
def test_every_edition_tells_everything_in_an_order_of_its_own(tmp_path: Path, edition: Edition) -> None:
    _, read = page(tmp_path, layout(), findings(), facts(layout(), edition=edition))
    assert said.EDITIONS[edition] in read.text
    parts = (said.VIEWS, said.FINDINGS, said.MATRIX, said.PLACED, said.SCANS, said.ACCEPTED, said.CAUTIONS)
    assert set(parts) <= set(read.texts)
    first = {
        "myself": said.VIEWS,
        "customer": said.VIEWS,
        "inspector": said.CAUTIONS,
        "workshop": said.PLACED,
    }
    assert min(parts, key=read.texts.index) == first[edition]


def test_a_wide_axis_parts_into_stops_and_the_ways_between(tmp_path: Path) -> None:
    stops = [*GEARS, *(f"N-{gear}" for gear in GEARS[1:])]
    told = tuple(
        finding("hand-vessel", ("driver-1.hand", "vessel-1"), 50.0, state=state_of({"shifter-1.gear": stop}))
        for stop in stops
    )
    _, read = page(tmp_path, layout(), told, facts(layout()))
    heads = [
        held.get("colspan") for tag, held in read.tags if tag == "th" and held.get("scope") == "colgroup"
    ]
    assert heads == ["1", "7", "1", "6"]
    assert "Gear, on the way" in read.texts
