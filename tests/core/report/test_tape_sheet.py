"""The tape sheet: two pages of either paper, every sentence on them, every marked length as on its sketch."""

import math
import re
from io import BytesIO
from pathlib import Path

import pypdf
import pytest

from floorpan.driver.measuring import SKETCHED, TAPED_POINTS, sketch
from floorpan.driver.sketch import Dimension
from floorpan.errors import ReportProblem
from floorpan.layout import Layout
from floorpan.progress import finish
from floorpan.report import tape_sheet_words as said
from floorpan.report.blocks import Form
from floorpan.report.display import Drawing, Stroke, Words
from floorpan.report.documents import writing_tape_sheet
from floorpan.report.lettering import settable
from floorpan.report.lettering import width as width_of
from floorpan.report.palette import ACCENT, colour
from floorpan.report.pdf import PaperSize, text_width_mm
from floorpan.report.tape_sheet import BELTED, MORE, tape_sheet, wrapped
from floorpan.report.tape_sheet_sketch import sketch_drawing
from floorpan.units import System

PRINTED = (*BELTED, *TAPED_POINTS, *MORE)


def pages(
    folder: Path, layout: Layout | None = None, size: PaperSize = "A4", system: System = "mm"
) -> list[str]:
    path = folder / "tape.pdf"
    finish(writing_tape_sheet(path, layout, date="2026-11-26", version="0.1.0", size=size, system=system))
    reader = pypdf.PdfReader(BytesIO(path.read_bytes()), strict=True)
    return [page.extract_text() for page in reader.pages]


def plain(text: str) -> str:
    return re.sub(r"\s+", "", settable(text).replace("\u00a0", ""))


def forms(system: System = "mm", size: PaperSize = "A4") -> list[Drawing]:
    paper = tape_sheet(None, date="2026-11-26", version="0.1.0", system=system, width_mm=text_width_mm(size))
    return [block.drawing for block in paper.blocks() if isinstance(block, Form)]


def test_all_that_is_taped_is_on_it_once() -> None:
    assert len(set(PRINTED)) == len(PRINTED)
    assert set(SKETCHED) - set(PRINTED) == {
        *("loose_turn_deg", "lean_off_deg", "elbow_least_deg", "elbow_most_deg")
    }


@pytest.mark.parametrize("size", ["A4", "letter"])
@pytest.mark.parametrize("system", ["mm", "in"])
@pytest.mark.parametrize("layout", [None, Layout(title="W" * 120)])
def test_it_is_two_pages_with_every_label_and_every_sentence(
    tmp_path: Path, size: PaperSize, system: System, layout: Layout | None
) -> None:
    told = pages(tmp_path, layout, size, system)
    assert len(told) == 2
    text = plain("".join(told))
    for key in PRINTED:
        assert plain(sketch(key).label) in text
    # Two sentences stand side by side: their lines are looked for one by one.
    wide = (text_width_mm(size) - 6.0) / 2.0
    for key in PRINTED:
        for line in wrapped(sketch(key).how, 2.7, wide - 33.6):
            assert all(plain(word) in text for word in line.split())
    for words in (said.IN_THE_CAR, said.MORE, said.POINTS, said.DRIVER.format(n=2), said.NOTCH):
        assert plain(words) in text


@pytest.mark.parametrize("size", ["A4", "letter"])
def test_each_sentence_is_set_whole_and_in_order_within_its_column(size: PaperSize) -> None:
    wide = text_width_mm(size)
    for drawing in forms(size=size)[1:]:
        columns: dict[bool, list[Words]] = {False: [], True: []}
        for mark in drawing.marks:
            if isinstance(mark, Words):
                columns[mark.at[0] > wide / 2].append(mark)
                long = width_of(mark.text, mark.size_mm, bold=mark.bold)
                end = mark.at[0] + {"start": long, "middle": long / 2, "end": 0.0}[mark.anchor]
                assert end <= (wide if mark.at[0] > wide / 2 else wide / 2 - 2.9) + 0.1
                assert 0.0 <= mark.at[1] <= drawing.height_mm
        for column in columns.values():
            lines = [mark for mark in column if mark.size_mm == 2.7]
            told = " ".join(mark.text for mark in sorted(lines, key=lambda mark: -mark.at[1]))
            assert told in [sketch(key).how for key in PRINTED]


def test_there_is_a_line_for_each_driver_of_every_size_and_for_three_coordinates_of_every_point() -> None:
    rows = forms()[1:]
    lines = [
        mark
        for drawing in rows
        for mark in drawing.marks
        if isinstance(mark, Stroke) and mark.width_mm == 0.25 and len(mark.path) == 2
    ]
    assert len(lines) == 2 * (len(BELTED) + len(MORE)) + 2 * 3 * len(TAPED_POINTS)
    ends = [(mark.path[0][1][0], mark.path[1][1][0]) for mark in lines]
    assert min(other[0] - one[0] for one, other in ends) >= 9.0


def test_the_unit_is_told(tmp_path: Path) -> None:
    assert "3\u20448" in "".join(pages(tmp_path, None, "letter", "in"))
    assert "10 mm" in "".join(pages(tmp_path, None, "A4", "mm")).replace("\u00a0", " ")


@pytest.mark.parametrize("key", PRINTED)
def test_the_marked_length_is_as_long_on_paper_as_the_sketch_has_it(key: str) -> None:
    held = sketch(key)
    drawing = sketch_drawing(held, 60.0)
    assert drawing.says == held.says
    scale = 60.0 / (held.greatest[0] - held.least[0])
    assert drawing.height_mm == pytest.approx(scale * (held.greatest[1] - held.least[1]))
    corners = [
        point
        for mark in drawing.marks
        if isinstance(mark, Stroke)
        for _, points in mark.path
        for point in points
    ]
    spill = 4.0
    assert all(-spill <= x <= 60.0 + spill and -spill <= y <= drawing.height_mm + spill for x, y in corners)
    if isinstance(held.mark, Dimension):
        strokes = [
            math.dist(mark.path[0][1][0], mark.path[1][1][0])
            for mark in drawing.marks
            if isinstance(mark, Stroke)
            and mark.stroke == colour(ACCENT)
            and mark.width_mm == 0.3
            and len(mark.path) == 2
        ]
        long = held.mark.length_mm() * scale
        if long > 2.3:
            assert strokes == [pytest.approx(long, abs=0.01)]
        else:
            assert len(strokes) == 2


def test_it_is_written_as_pdf_or_not_at_all(tmp_path: Path) -> None:
    with pytest.raises(ReportProblem, match="tape sheet cannot"):
        finish(writing_tape_sheet(tmp_path / "tape.txt", None, date="", version="0.1.0"))
    assert list(tmp_path.iterdir()) == []
    work = writing_tape_sheet(tmp_path / "tape.pdf", None, date="", version="0.1.0")
    next(work)
    work.close()
    assert list(tmp_path.iterdir()) == []


def test_the_same_sheet_is_the_same_bytes(tmp_path: Path) -> None:
    for name in ("one.pdf", "other.pdf"):
        finish(writing_tape_sheet(tmp_path / name, None, date="2026-11-26", version="0.1.0"))
    assert (tmp_path / "one.pdf").read_bytes() == (tmp_path / "other.pdf").read_bytes()
