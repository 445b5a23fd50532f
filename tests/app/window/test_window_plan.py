"""Sizes and folding of the window: the plan's own numbers, and nothing cut or covered at any size."""

from collections.abc import Iterable
from pathlib import Path

import pytest
from PySide6.QtCore import QPoint, QRect, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QWidget
from pytestqt.qtbot import QtBot

from app.window.answers import Answers
from app.window.plain_parts import PlainPicture, plain_parts
from floorpan_app.settings import Settings
from floorpan_app.theme.follow import ThemeFollower, apply_theme
from floorpan_app.theme.fonts import use_fonts
from floorpan_app.theme.record import load_theme
from floorpan_app.window.benchtop import Benchtop
from floorpan_app.window.main_window import LEAST, MainWindow
from floorpan_app.window.works import Works


@pytest.fixture
def page(judged: Works) -> Benchtop:
    assert judged.page is not None
    return judged.page


def place(widget: QWidget, page: Benchtop) -> QRect:
    return QRect(widget.mapTo(page, QPoint(0, 0)), widget.size())


def resize(qtbot: QtBot, window: MainWindow, width: int, height: int) -> None:
    window.resize(width, height)
    qtbot.waitUntil(lambda: (window.width(), window.height()) == (width, height))
    qtbot.wait(20)


def test_the_column_is_as_wide_as_planned_and_the_picture_takes_the_rest(
    qtbot: QtBot, window: MainWindow, page: Benchtop
) -> None:
    for width, height, column in ((1366, 768, 344), (1920, 1080, 408)):
        resize(qtbot, window, width, height)
        assert page.column.width() == column
        assert page.view.width() == width - column
        assert page.view.x() == 0
        assert place(page.view, page).top() == page.strip.geometry().bottom() + 1
        assert page.view.geometry().bottom() == page.height() - 1


def assert_apart(pieces: Iterable[QWidget], whole: QRect) -> None:
    """Everything that is seen lies inside, and nothing over anything else."""
    seen = [piece for piece in pieces if piece.isVisible()]
    for number, piece in enumerate(seen):
        assert whole.contains(piece.geometry())
        for other in seen[number + 1 :]:
            assert not piece.geometry().intersects(other.geometry())


@pytest.mark.parametrize("drawer", [False, True])
def test_nothing_lies_over_anything_else(
    qtbot: QtBot, window: MainWindow, page: Benchtop, drawer: bool
) -> None:
    if drawer:
        page.toggle_drawer()
    view, column = page.view, page.column
    for size in ((1366, 768), (1920, 1080), (1280, 720), (1100, 640), LEAST):
        resize(qtbot, window, *size)
        assert_apart((page.strip, view, column, page.drawer), page.rect())
        assert_apart((column.spot, column.cards, column.ledger), column.rect())
        if view.height() > 200:
            assert_apart((view.line, view.seen_from, view.showing, view.roll), view.rect())


def test_the_drawer_takes_at_most_three_fifths_of_the_height(
    qtbot: QtBot, window: MainWindow, page: Benchtop
) -> None:
    page.toggle_drawer()
    for size, view in (((1366, 768), (270, 330)), ((1920, 1080), (560, 600))):
        resize(qtbot, window, *size)
        assert page.drawer.height() <= 0.6 * (page.height() - page.strip.height())
        assert view[0] <= page.view.height() <= view[1]


def test_on_a_large_screen_the_drawer_is_open_until_it_is_put_away(
    qtbot: QtBot, window: MainWindow, page: Benchtop
) -> None:
    assert page.drawer.isHidden()
    window.resize(3840, 2160)
    qtbot.waitUntil(lambda: page.width() >= 3000)
    assert page.drawer.isVisible()
    assert page.column.width() == 420
    page.toggle_drawer()
    assert page.drawer.isHidden()


def test_in_a_low_window_the_drawer_takes_the_place_of_the_picture(
    qtbot: QtBot, window: MainWindow, page: Benchtop
) -> None:
    resize(qtbot, window, 1366, 610)
    page.toggle_drawer()
    assert page.view.height() == 0
    assert page.drawer.height() == page.column.height()
    page.toggle_drawer()
    assert page.view.height() == page.column.height()


def test_a_narrow_window_calls_the_column_over_the_picture(
    qtbot: QtBot, window: MainWindow, page: Benchtop, judged: Works
) -> None:
    resize(qtbot, window, 1000, 700)
    assert page.column.isHidden()
    assert page.view.width() == 1000
    assert page.view.line.isVisible()
    assert page.view.line.width() == 1000
    spot = page.view.line.spot()
    assert spot == page.column.spot.spot()
    page.view.line.spotChosen.emit("x")
    assert page.column.isVisible()
    assert page.column.geometry().right() == 999
    assert not page.view.line.isVisible()
    assert judged.escape()
    assert page.column.isHidden()
    resize(qtbot, window, 1366, 768)
    assert page.column.isVisible()
    assert not page.view.line.isVisible()


def test_the_area_key_calls_the_column_too(qtbot: QtBot, window: MainWindow, page: Benchtop) -> None:
    resize(qtbot, window, 1000, 700)
    page.walk(1)
    assert page.column.isVisible()


def test_the_accept_button_is_seen_at_every_size(qtbot: QtBot, window: MainWindow, page: Benchtop) -> None:
    for size in ((1366, 768), (1920, 1080), (1100, 640), LEAST):
        resize(qtbot, window, *size)
        if page.is_narrow() and page.column.isHidden():
            page.call_column()
        card = page.column.card()
        button = card.findChildren(QWidget)[-1]
        assert button.isVisible()
        assert card.rect().contains(QRect(button.mapTo(card, QPoint(0, 0)), button.size()))
        assert page.column.rect().contains(place(card, page).translated(-page.column.pos()))


def test_a_high_window_tells_what_is_clear_a_low_one_does_not(
    qtbot: QtBot, window: MainWindow, page: Benchtop
) -> None:
    resize(qtbot, window, 1920, 1080)
    assert page.column.reach() == "worst of pairs"
    spot = page.column.spot.spot()
    assert spot is not None
    assert page.column.ledger.rows()[0].id == spot.id
    resize(qtbot, window, 1366, 768)
    assert page.column.reach() == "not clear"
    assert spot.id not in [row.id for row in page.column.ledger.rows()]


def test_the_picture_knows_what_stands_on_it(qtbot: QtBot, window: MainWindow, page: Benchtop) -> None:
    resize(qtbot, window, 1366, 768)
    picture = page._parts.picture
    assert isinstance(picture, PlainPicture)
    top, bottom = picture.insets
    assert top == page.view.seen_from.height()
    assert bottom >= page.view.roll.height()


def test_words_over_the_picture_do_what_they_say(judged: Works, page: Benchtop) -> None:
    page.view.seen_from.wordChosen.emit("above")
    assert page.view.seen_from.chosen() == "above"
    page.view.showing.showingChanged.emit("seats", False)
    assert page._parts.filling.showing()[1].on is False
    page.view.roll.verbChosen.emit("measure")
    assert judged.session.desk.tool == "measure"
    assert page.view.roll.in_hand() == "measure"
    page.view.roll.verbChosen.emit("measure")
    assert judged.session.desk.tool == ""


def test_sides_have_letters_until_a_scan_stands_in_car_axes(
    qtbot: QtBot, window: MainWindow, judged: Works, page: Benchtop
) -> None:
    from dataclasses import replace

    words = [page.view.seen_from.button(id).text() for id in ("driver", "passenger", "front", "rear")]
    assert words == ["driver", "passenger", "front", "rear"]
    judged.session.desk.change(
        "loose", lambda layout: replace(layout, scans=tuple(replace(s, pose=None) for s in layout.scans))
    )
    words = [page.view.seen_from.button(id).text() for id in ("driver", "passenger", "front", "rear")]
    assert words == ["side A", "side B", "side C", "side D"]
    assert not window.actions_.action("place seat").isEnabled()
    assert window.status.facts()[1] == ""


def test_scan_and_axes_give_the_list_s_room_to_the_card(
    qtbot: QtBot, window: MainWindow, judged: Works, page: Benchtop
) -> None:
    resize(qtbot, window, 1366, 768)
    heights = {}
    for step in ("scan", "axes", "controls"):
        page.desk.go_to(step)
        QApplication.processEvents()
        heights[step] = page.column.ledger.height()
    assert heights["scan"] == heights["axes"] < heights["controls"]


def test_the_tab_key_goes_in_the_order_of_the_work(window: MainWindow, page: Benchtop) -> None:
    page.desk.go_to("controls")
    QApplication.processEvents()
    page.toggle_drawer()
    view, column = page.view, page.column
    areas = {
        "strip": page.strip,
        "picture": view.picture,
        "seen from": view.seen_from,
        "showing": view.showing,
        "tools": view.roll,
        "spot": column.spot,
        "card": column.cards,
        "ledger": column.ledger,
        "drawer": page.drawer,
        "status": window.status,
    }
    order: list[str] = []
    next(cell for cell in page.strip.findChildren(QWidget) if takes_tab(cell)).setFocus()
    for _ in range(60):
        focus = QApplication.focusWidget()
        assert focus is not None
        name = next((n for n, area in areas.items() if area is focus or area.isAncestorOf(focus)), "")
        assert name, focus
        if order and name == order[0] and len(order) > 1:
            break
        if name not in order:
            order.append(name)
        QTest.keyClick(focus, Qt.Key.Key_Tab)
    assert order == list(areas)


def takes_tab(widget: QWidget) -> bool:
    return widget.isVisible() and bool(widget.focusPolicy() & Qt.FocusPolicy.TabFocus)


@pytest.mark.parametrize("size", [(1366, 768), LEAST])
def test_large_text_folds_the_window_and_cuts_nothing(
    app: QApplication,
    qtbot: QtBot,
    settings: Settings,
    answers: Answers,
    project: Path,
    size: tuple[int, int],
) -> None:
    use_fonts(200)
    apply_theme(app, load_theme("light"))
    follower = ThemeFollower(app, "light")
    window = MainWindow(settings, follower, asking=answers, make_parts=plain_parts)
    window.resize(*size)
    window.show()
    window.open(project)
    qtbot.waitUntil(lambda: window.works is not None and window.works.page is not None, timeout=20_000)
    works = window.works
    assert works is not None
    page = works.page
    assert page is not None
    assert (window.width(), window.height()) == size
    assert page.is_narrow()
    assert page.strip.width() == size[0]
    page.call_column()
    card = page.column.card()
    button = card.findChildren(QWidget)[-1]
    assert card.rect().contains(QRect(button.mapTo(card, QPoint(0, 0)), button.size()))
    window.close()
    window.deleteLater()
    follower.deleteLater()
