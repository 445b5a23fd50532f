"""The scan checklist: what checks ask for, as the checks themselves do it, on one page of either paper."""

import re
from io import BytesIO
from pathlib import Path

import pypdf
import pytest

from core.small_case import level_floor, raw_scan, small_layout
from floorpan import edits
from floorpan.checks import evaluate
from floorpan.checks.catalogue import CHECKS
from floorpan.checks.needed import kind_needed
from floorpan.derive import Bench
from floorpan.errors import ReportProblem
from floorpan.items import Buckle, Handbrake
from floorpan.layout import AREA_KINDS, Box, Layout
from floorpan.limits import LIMITS
from floorpan.progress import finish
from floorpan.report import checklist_words as said
from floorpan.report.checklist_form import form_heights, hand_form, tick_box
from floorpan.report.checklist_page import area_name
from floorpan.report.display import Stroke, Words
from floorpan.report.documents import writing_checklist
from floorpan.report.lettering import settable
from floorpan.report.lettering import width as width_of
from floorpan.report.paper_words import PAGE
from floorpan.report.pdf import PaperSize, text_width_mm
from floorpan.report.scan_checklist import area_state, asked_for, not_asked_yet, scan_checklist
from floorpan.units import System

RAW = raw_scan(level_floor(cells=18))
LIMIT_OF = {told: limit for limit, told in said.ASKS.items()}


def named(layout: Layout, *kinds: str) -> Layout:
    """Strips of the level floor under these names."""
    for place, kind in enumerate(kinds):
        low = -700.0 + 150.0 * place
        box = Box(least_mm=(low, -700.0, -10.0), greatest_mm=(low + 140.0, 700.0, 10.0))
        layout = edits.add_area(layout, "scan-1", kind, box)
    return layout


# --- what is asked for --------------------------------------------------------------------------------------------


def test_before_anything_is_placed_every_kind_is_asked_for() -> None:
    page = scan_checklist(Layout())
    assert [row.area for row in page.rows] == [
        *("tunnel top", "tunnel flank", "floor", "dash", "seat"),
        *("handbrake", "wheel rim", "belt", "keep-out", "scan"),
    ]
    assert {row.area for row in page.rows} == set(AREA_KINDS)
    assert {row.state for row in page.rows} == {"missing"}
    assert not_asked_yet(Layout()) == ()
    # Every limit of a gap to the scan asks for something.
    asking = {LIMIT_OF[needed.check] for needed in asked_for(Layout())}
    # The forearm goes by what the hand on the same knob asks for.
    wanted = {id for id in LIMITS if id.endswith("-scan")} - {"forearm-scan"}
    assert asking == wanted | {"console-seen", "stands"}


def test_the_checks_do_measure_to_what_the_page_says_they_ask_for() -> None:
    """Evaluated with every kind named: each limit of a gap meets each area that stands beside it on the page."""
    kinds = tuple(kind for kind in AREA_KINDS if kind not in ("scan", "floor"))
    layout, _ = edits.add(named(small_layout(RAW), *kinds), Handbrake(id="new"))
    layout, _ = edits.add(layout, Buckle(id="new"))
    areas = {area.id: area.kind for area in layout.scans[0].areas}
    met = {
        (finding.limit.id, areas[finding.subjects[1]])
        for finding in finish(evaluate(layout, Bench({RAW.sha256: RAW})))
        if finding.limit is not None and finding.subjects[1:] and finding.subjects[1] in areas
    }
    asked = {(LIMIT_OF[needed.check], needed.kind) for needed in asked_for(Layout()) if needed.kind in kinds}
    assert {pair for pair in asked if pair[0].endswith("-scan")} <= met


def test_what_a_check_cannot_do_without_is_on_the_page_as_long_as_the_check_says_so() -> None:
    layout = edits.mark_absent(small_layout(RAW), "dash", absent=False)
    needs = [kind_needed(check) for check in CHECKS if kind_needed(check) != ("", "")]
    assert ("hand-scan", "dash") in needs
    bench = Bench({RAW.sha256: RAW})
    for held, state in (
        (layout, "missing"),
        (named(layout, "dash"), "supplied"),
        (edits.mark_absent(layout, "dash", absent=True), "absent"),
    ):
        unseen = any(
            (finding.met, finding.verdict) == ("dash", "unseen") and "No part of the scan" in finding.note
            for finding in finish(evaluate(held, bench))
        )
        assert unseen == (state == "missing")
        (row,) = (row for row in scan_checklist(held).rows if row.area == "dash")
        assert row.state == state
        assert said.ASKS["hand-scan"] in row.checks


def test_only_what_is_placed_asks_and_the_rest_is_told_as_not_asked_yet() -> None:
    layout = small_layout(RAW)
    for id in ("shifter-1", "console-1", "vessel-1", "cup-holder-1"):
        layout = edits.remove(layout, id)
    page = {row.area: row.checks for row in scan_checklist(layout).rows}
    assert set(page) == {"tunnel flank", "floor", "handbrake", "belt", "keep-out", "scan"} | {"tunnel top"}
    assert page["belt"] == (said.ASKS["seat-scan"],)
    # The dash is said to be absent: it is not asked for by and by either.
    assert not_asked_yet(layout) == ("seat", "wheel rim")


def test_a_placed_seat_stands_for_the_scanned_one() -> None:
    assert area_state(Layout(), "seat") == "missing"
    assert area_state(small_layout(RAW), "seat") == "supplied"
    assert area_state(small_layout(RAW), "handbrake") == "missing"
    assert area_state(small_layout(RAW), "scan") == "supplied"


# --- the page -----------------------------------------------------------------------------------------------------


def written(
    folder: Path, layout: Layout | None, size: PaperSize = "A4", system: System = "mm"
) -> pypdf.PdfReader:
    path = folder / "checklist.pdf"
    finish(writing_checklist(path, layout, date="2026-11-25", version="0.1.0", size=size, system=system))
    return pypdf.PdfReader(BytesIO(path.read_bytes()), strict=True)


def plain(text: str) -> str:
    return re.sub(r"\s+", "", settable(text).replace("\u00a0", ""))


@pytest.mark.parametrize(("size", "points"), [("A4", (595.2756, 841.8898)), ("letter", (612.0, 792.0))])
@pytest.mark.parametrize("system", ["mm", "in"])
@pytest.mark.parametrize("which", ["none", "all", "longest", "few"])
def test_it_is_one_page_with_the_words_of_every_row(
    tmp_path: Path, size: PaperSize, points: tuple[float, float], system: System, which: str
) -> None:
    few = edits.add_scan(Layout(title="W" * 120), small_layout(RAW).scans[0])
    few, _ = edits.add(few, small_layout(RAW).seats[0])
    layouts = {"none": None, "all": small_layout(RAW), "longest": Layout(title="W" * 120), "few": few}
    layout = layouts[which]
    reader = written(tmp_path, layout, size, system)
    assert len(reader.pages) == 1
    page = reader.pages[0]
    assert (page.mediabox.width, page.mediabox.height) == pytest.approx(points, abs=0.01)
    text = plain(page.extract_text())
    told = scan_checklist(layout or Layout())
    for row in told.rows:
        for part in (area_name(row.area), row.why, row.how, ", ".join(row.checks)):
            assert plain(part) in text
    for sentence in (*told.before, said.MAP, said.LEVELS, said.KNOWN, said.BY_HAND, said.FRONT, said.REAR):
        assert plain(sentence) in text
    assert plain(said.BETWEEN.format(unit=system)) in text
    assert plain(PAGE.format(n=1, m=1)) in text
    if which == "few":
        assert plain(", ".join(map(area_name, not_asked_yet(few)))) in text


def test_states_are_told_in_words_and_before_a_scan_there_is_only_to_scan(tmp_path: Path) -> None:
    text = plain(written(tmp_path, None).pages[0].extract_text())
    assert text.count(plain(said.NOT_SCANNED)) >= len(AREA_KINDS)
    assert plain(said.STATES["missing"]) not in text
    text = plain(written(tmp_path, small_layout(RAW)).pages[0].extract_text())
    rows = scan_checklist(small_layout(RAW)).rows
    assert {row.state for row in rows} == set(said.STATES)
    for state, words in said.STATES.items():
        assert text.count(plain(words)) == sum(row.state == state for row in rows)


def test_the_file_says_what_it_is_and_is_the_same_each_time(tmp_path: Path) -> None:
    reader = written(tmp_path, Layout(title="Tin coupe"))
    assert reader.metadata is not None
    assert (reader.metadata.title, reader.metadata.subject) == ("Scan checklist: Tin coupe", "Scan checklist")
    first = (tmp_path / "checklist.pdf").read_bytes()
    written(tmp_path, Layout(title="Tin coupe"))
    assert (tmp_path / "checklist.pdf").read_bytes() == first
    assert [one.name for one in tmp_path.iterdir()] == ["checklist.pdf"]


@pytest.mark.parametrize("name", ["list.html", "list", "project.json"])
def test_it_is_written_as_pdf_only(tmp_path: Path, name: str) -> None:
    with pytest.raises(ReportProblem) as fault:
        finish(writing_checklist(tmp_path / name, None, date="", version=""))
    assert fault.value.code == "checklist-suffix"
    assert list(tmp_path.iterdir()) == []


# --- what is written on by hand -------------------------------------------------------------------------------------


def test_the_three_boxes_differ_in_shape_and_not_in_colour() -> None:
    boxes = {state: tick_box(state) for state in said.STATES}
    assert len({box.marks for box in boxes.values()}) == 3
    assert len({mark.stroke for box in boxes.values() for mark in box.marks if isinstance(mark, Stroke)}) == 1
    assert [box.says for box in boxes.values()] == list(said.STATES.values())


@pytest.mark.parametrize("size", ["A4", "letter"])
@pytest.mark.parametrize("high", tuple(form_heights()))
def test_the_form_stays_on_its_sheet_and_words_on_their_side(size: PaperSize, high: float) -> None:
    wide = text_width_mm(size)
    form = hand_form(wide, high, "mm")
    right_side = next(mark for mark in form.marks if isinstance(mark, Words) and mark.text == said.LEVELS).at[
        0
    ]
    for mark in form.marks:
        if isinstance(mark, Words):
            long = width_of(mark.text, mark.size_mm, bold=mark.bold)
            start = mark.at[0] - long * {"start": 0.0, "middle": 0.5, "end": 1.0}[mark.anchor]
            # The map's words end before the lines' words begin.
            limit = wide if start >= right_side - 0.01 else right_side - 1.0
            assert 0.0 <= start <= start + long <= limit + 0.01
            assert 0.0 <= mark.at[1] <= high - 1.0
        else:
            for _, points in mark.path:
                assert all(0.0 <= x <= wide + 0.01 and -0.01 <= y <= high + 0.01 for x, y in points)


def test_the_lower_form_has_fewer_lines_to_write_on() -> None:
    counts = [len(hand_form(174.0, high, "mm").marks) for high in form_heights()]
    lines = [
        sum(isinstance(mark, Stroke) and not mark.dash for mark in hand_form(174.0, high, "mm").marks)
        for high in form_heights()
    ]
    assert counts == sorted(counts, reverse=True)
    assert len(set(lines)) == len(lines)
