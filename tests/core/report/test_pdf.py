"""The PDF, opened again with another library: every finding is in it, as text, on pages that hold it."""

import dataclasses
import re
from io import BytesIO
from pathlib import Path

import pypdf
import pytest

from core.report.made_up import facts, findings, layout, many, png
from floorpan.checks.finding import Finding
from floorpan.layout import Layout
from floorpan.report import paper_words as said
from floorpan.report.cautions import cautions, first_line
from floorpan.report.documents import write_report
from floorpan.report.driver_page_words import DRIVER
from floorpan.report.facts import ReportFacts
from floorpan.report.lettering import FRACTION, settable
from floorpan.report.pdf import PaperSize
from floorpan.report.rows import rows
from floorpan.units import System

A4_PT, LETTER_PT = (595.2756, 841.8898), (612.0, 792.0)


def made(
    folder: Path,
    held: Layout,
    told: tuple[Finding, ...],
    known: ReportFacts,
    system: System = "mm",
    size: PaperSize = "A4",
) -> pypdf.PdfReader:
    path = folder / "fit.pdf"
    write_report(path, held, told, known, system=system, size=size)
    return pypdf.PdfReader(BytesIO(path.read_bytes()), strict=True)


def plain(text: str) -> str:
    """Without spaces and soft line ends, so that a wrapped line is found again."""
    return re.sub(r"\s+", "", settable(text).replace("\u00a0", ""))


def text_of(reader: pypdf.PdfReader) -> str:
    return plain(" ".join(page.extract_text() for page in reader.pages))


@pytest.fixture(scope="module")
def usual(tmp_path_factory: pytest.TempPathFactory) -> pypdf.PdfReader:
    return made(tmp_path_factory.mktemp("usual"), layout(), findings(), facts(layout()))


def test_every_finding_is_told_with_value_give_or_take_limit_source_and_verdict(
    usual: pypdf.PdfReader,
) -> None:
    text = text_of(usual)
    for row in rows(findings(), layout()):
        assert plain(row.sentence) in text
        assert plain(row.second) in text
        assert plain(row.verdict_word + row.sentence) in text
        assert plain(f"{row.value}{row.give_or_take}") in text


def test_the_first_page_opens_with_the_caution_and_says_what_matters(usual: pypdf.PdfReader) -> None:
    first = plain(usual.pages[0].extract_text())
    caution, worst = plain(first_line(layout())), plain(rows(findings(), layout())[0].sentence)
    assert 0 < first.index(caution) < first.index(worst)
    for part in (
        "Tin coupe",
        "2026-11-25",
        said.FAILS,
        said.GEARS,
        said.NOT_CHECKED,
        said.SIGN,
        "38 mm rearward",
    ):
        assert plain(part) in first


def test_every_page_carries_its_foot(usual: pypdf.PdfReader) -> None:
    for number, page in enumerate(usual.pages, 1):
        text = plain(page.extract_text())
        assert plain("Tin coupe · version B · floorpan 0.1.0 · scan ± 1.5 · lengths in mm") in text
        assert plain(said.PAGE.format(n=number, m=len(usual.pages))) in text


def test_all_the_parts_are_there(usual: pypdf.PdfReader) -> None:
    text = text_of(usual)
    for part in (
        said.VIEWS,
        said.FINDINGS,
        said.MATRIX,
        said.PLACED,
        said.SCANS,
        said.ACCEPTED,
        said.CAUTIONS,
    ):
        assert plain(part) in text
    for caution in cautions(layout(), findings()):
        assert plain(caution.text) in text
    assert plain("640 rear, on the centre plane, 220 up") in text
    assert plain("look again") in text
    assert plain("Point C is behind trim.") in text
    assert plain("A 0.3 mm, B 0.42 mm, C 1.1 mm") in text


def test_the_outline_leads_to_the_parts(usual: pypdf.PdfReader) -> None:
    titles = [str(entry["/Title"]) for entry in usual.outline if not isinstance(entry, list)]
    assert titles == [said.VIEWS, said.FINDINGS, DRIVER, said.MATRIX, said.PLACED, said.SCANS, said.CAUTIONS]
    for entry in usual.outline:
        assert not isinstance(entry, list)
        number = usual.get_destination_page_number(entry)
        assert number is not None
        assert plain(str(entry["/Title"])) in plain(usual.pages[number].extract_text())


def test_the_file_says_what_it_is(usual: pypdf.PdfReader) -> None:
    assert usual.metadata is not None
    assert usual.metadata.title == "Fit report: Tin coupe"
    assert usual.trailer["/Root"]["/Lang"] == "en"


@pytest.mark.parametrize(("size", "box"), [("A4", A4_PT), ("letter", LETTER_PT)])
def test_paper_sizes(tmp_path: Path, size: PaperSize, box: tuple[float, float]) -> None:
    reader = made(tmp_path, layout(), findings(), facts(layout()), size=size)
    for page in reader.pages:
        assert (float(page.mediabox.width), float(page.mediabox.height)) == pytest.approx(box, abs=0.01)


def test_the_same_paper_is_the_same_bytes(tmp_path: Path) -> None:
    for name in ("a.pdf", "b.pdf"):
        write_report(tmp_path / name, layout(), findings(), facts(layout()))
    assert (tmp_path / "a.pdf").read_bytes() == (tmp_path / "b.pdf").read_bytes()


def test_only_the_programs_own_faces_are_used_and_they_are_in_the_file(usual: pypdf.PdfReader) -> None:
    for page in usual.pages:
        for font in page["/Resources"]["/Font"].values():  # type: ignore[index]
            held = font.get_object()
            if held["/Subtype"] == "/TrueType":
                assert "/FontFile2" in held["/FontDescriptor"].get_object()
            else:
                # The library lists its standard face on every page; no text is set in it.
                assert held["/BaseFont"] == "/Helvetica"


def spots(page: pypdf.PageObject) -> list[tuple[float, float]]:
    """Where text starts on a page, in points."""
    found: list[tuple[float, float]] = []

    def note(text: str, now: list[float], line: list[float], *_: object) -> None:
        if text.strip():
            x, y = line[4], line[5]
            found.append((now[0] * x + now[2] * y + now[4], now[1] * x + now[3] * y + now[5]))

    page.extract_text(visitor_text=note)
    return found


@pytest.mark.parametrize("system", ["mm", "in"])
def test_long_names_stay_on_the_page(tmp_path: Path, system: System) -> None:
    name = "An-unbroken-name-as-long-as-a-name-may-ever-be-in-here-12345"
    assert len(name) == 60
    items = tuple(dataclasses.replace(item, name=name) for item in layout().items)
    accepted = tuple(dataclasses.replace(one, reason="because " * 50) for one in layout().accepted)
    held = layout(title="A title that goes on " * 5, items=items, accepted=accepted)
    told = tuple(dataclasses.replace(one, met=name if one.met == "Bottle" else one.met) for one in findings())
    reader = made(tmp_path, held, told, facts(held), system=system)
    for page in reader.pages:
        for x, y in spots(page):
            assert 40 <= x <= A4_PT[0] - 40
            assert 20 <= y <= A4_PT[1] - 20
    assert plain(rows(told, held, system)[0].sentence) in text_of(reader)


def test_four_hundred_findings_are_all_there(tmp_path: Path) -> None:
    reader = made(tmp_path, layout(), many(400), facts(layout()))
    text = text_of(reader)
    for row in rows(many(400), layout()):
        assert plain(row.sentence) in text
    assert plain("pairs are listed under") in plain(reader.pages[0].extract_text())
    assert plain(said.SIGN) in plain(reader.pages[0].extract_text())


def test_no_findings_at_all(tmp_path: Path) -> None:
    reader = made(tmp_path, Layout(), (), ReportFacts(date="2026-11-25", version="0.1.0"))
    assert len(reader.pages) == 1
    assert plain(said.NOTHING_YET) in text_of(reader)
    assert plain(said.NC_NO_DRIVER) in text_of(reader)


def test_inches_are_set_as_fractions(tmp_path: Path) -> None:
    reader = made(tmp_path, layout(), findings(), facts(layout()), system="in")
    text = text_of(reader)
    assert (
        plain(f"Knuckles hit the bottle in reverse by 1{FRACTION}4 in (give or take 1{FRACTION}8).") in text
    )
    assert plain("lengths in in") in text


def test_pictures_are_inside(tmp_path: Path) -> None:
    known = facts(layout(), pictures=(("From above", png(8, 6)), ("From the rear", png(5, 7))))
    reader = made(tmp_path, layout(), findings(), known)
    images = [image.image for page in reader.pages for image in page.images]
    assert sorted(image.size for image in images if image is not None) == [(5, 7), (8, 6)]
    first = next(image for image in images if image is not None and image.size == (8, 6))
    assert first.convert("RGB").getpixel((0, 0)) == (90, 120, 150)
    assert plain("From above") in text_of(reader)
    assert plain("looking forward") in text_of(reader)


def test_a_sign_the_face_lacks_is_replaced_and_nothing_breaks(tmp_path: Path) -> None:
    held = layout(title="\U0001f6a7 \U0001f697 coupe")
    reader = made(tmp_path, held, findings(), facts(held))
    assert "??coupe" in text_of(reader)


@pytest.mark.parametrize("title", ["Grün 東京の車", "한국 차", "红色 跑车", "Ёлка и Ωμέγα"])
def test_names_of_any_alphabet_are_read_out_of_the_paper_again(tmp_path: Path, title: str) -> None:
    named = dataclasses.replace(layout(), title=title)
    first = made(tmp_path, named, findings(), facts(named)).pages[0].extract_text()
    assert plain(title) in plain(first)
    assert "?" not in plain(title)
