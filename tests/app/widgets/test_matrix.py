"""The state matrix: every cell says what it means, keys skip what does not apply, nothing scrolls sideways."""

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st
from PySide6.QtCore import QModelIndex, QRectF, QSize, Qt
from PySide6.QtWidgets import QCheckBox, QLabel
from pytestqt.qtbot import QtBot

from floorpan_app.theme.fonts import BODY, scaled, text_font, use_fonts
from floorpan_app.theme.record import VERDICTS, load_theme
from floorpan_app.widgets.lettering import BOLDER, text_width
from floorpan_app.widgets.matrix import SECOND_LINE, StateMatrix
from floorpan_app.widgets.matrix_legend import ShapeLegend
from floorpan_app.widgets.matrix_paint import (
    CELL_HEIGHT,
    CELL_MOST,
    CELL_WIDTH,
    column_width,
    group_word_width,
    own_rect,
    paint_cell,
)
from floorpan_app.widgets.matrix_table import (
    MatrixCell,
    MatrixColumn,
    MatrixGroup,
    MatrixRow,
    MatrixTable,
    ShownColumn,
    fold_groups,
    shown_columns,
    widened,
    worst_member,
)
from look.pictures import drawn, of_colour
from look.samples import matrix_table

LEFT = Qt.MouseButton.LeftButton


def matrix_of(qtbot: QtBot, width: int = 1022, table: MatrixTable | None = None) -> StateMatrix:
    matrix = StateMatrix(table or matrix_table())
    qtbot.addWidget(matrix)
    matrix.resize(width, 420)
    matrix.show()
    matrix.activateWindow()
    qtbot.waitExposed(matrix)
    return matrix


def index(matrix: StateMatrix, row: int, column: int) -> QModelIndex:
    return matrix.view().model().index(row, column)


def spoken(matrix: StateMatrix, row: int, column: int) -> str:
    return str(index(matrix, row, column).data(Qt.ItemDataRole.AccessibleTextRole))


@given(
    widths=st.lists(st.integers(50, 600), min_size=1, max_size=8),
    room=st.integers(0, 3000),
    keep=st.integers(0, 7),
)
def test_folding_makes_all_fit_or_folds_all_and_never_more_than_it_must(
    widths: list[int], room: int, keep: int
) -> None:
    narrow = [min(50.0, width) for width in widths]
    folded = fold_groups([float(w) for w in widths], narrow, room, keep)

    def total(some: set[int]) -> float:
        return sum(narrow[i] if i in some else widths[i] for i in range(len(widths)))

    foldable = {i for i, width in enumerate(widths) if width > 50}
    assert total(folded) <= room or folded == foldable
    if folded and total(folded) <= room:
        # Each of the last ones was needed: without the one that was folded last it would not fit.
        last = keep if keep in folded else min(folded)
        assert total(folded - {last}) > room
    if keep in folded:
        assert folded == foldable


def test_an_axis_gets_the_room_of_its_word_where_there_is_some() -> None:
    shown = shown_columns(matrix_table().groups, {1, 2, 3})
    widths = [40] * len(shown)
    heads = [100, 60, 90, 70]
    assert widened(widths, shown, heads, 1000.0)[-3:] == (60, 90, 70)
    assert widened(widths, shown, heads, sum(widths) + 30.0)[-3:] == (60, 50, 40)
    assert widened(widths, shown, heads, 10.0) == tuple(widths)


def test_a_folded_axis_speaks_through_its_worst_stop() -> None:
    table = matrix_table()
    [folded] = [c for c in shown_columns(table.groups, {3}) if c.folded()]
    assert folded.word == "worst of 3"
    assert worst_member(table, "hand-bottle", folded) == "Bottle.in"
    assert worst_member(table, "bottle-dash-underside", folded) == "Bottle.lifting"
    assert worst_member(table, "hand-dash", folded) == ""


def test_of_two_alike_the_smaller_margin_is_the_worse() -> None:
    cells = {
        ("r", f"{i}"): MatrixCell(verdict="hits", margin=margin)
        for i, margin in enumerate((-2.0, -6.0, -1.0))
    }
    column = ShownColumn(group=0, word="", members=("0", "1", "2"), starts_group=True)
    assert worst_member(MatrixTable(cells=cells), "r", column) == "1"


def test_the_order_of_verdicts_is_worst_first() -> None:
    assert VERDICTS == ("hits", "short", "close", "unseen", "pending", "clear")


@pytest.mark.parametrize("width", [420, 700, 1022, 1500])
@pytest.mark.parametrize("percent", [100, 150])
def test_nothing_lies_beyond_the_right_edge(qtbot: QtBot, width: int, percent: int) -> None:
    use_fonts(percent)
    matrix = matrix_of(qtbot, width * percent // 100)
    view = matrix.view()
    last = view.visualRect(index(matrix, 0, view.model().columnCount() - 1))
    assert last.right() <= view.viewport().width()
    assert view.horizontalScrollBar().maximum() == 0


def test_axes_fold_from_the_last_and_open_on_demand(qtbot: QtBot) -> None:
    matrix = matrix_of(qtbot, 700)
    assert matrix.folded_groups() == ("Handbrake", "Seat notch", "Bottle")
    matrix.open_group(3)
    assert "Bottle" not in matrix.folded_groups()
    assert "Gear" in matrix.folded_groups()
    assert matrix_of(qtbot, 1022).folded_groups() == ()


def test_a_click_on_the_heading_of_a_folded_axis_opens_it(qtbot: QtBot) -> None:
    matrix = matrix_of(qtbot, 700)
    header = matrix.view().horizontalHeader()
    last = matrix.view().model().columnCount() - 1
    centre = header.sectionViewportPosition(last) + header.sectionSize(last) // 2
    at = header.viewport().rect().center()
    at.setX(centre)
    qtbot.mouseClick(header.viewport(), LEFT, pos=at)
    assert "Bottle" not in matrix.folded_groups()


def test_shift_enter_opens_the_folded_axis_of_the_chosen_cell(qtbot: QtBot) -> None:
    matrix = matrix_of(qtbot, 700)
    matrix.set_chosen("hand-bottle", "Bottle.in")
    with qtbot.assertNotEmitted(matrix.cellChosen):
        qtbot.keyClick(matrix.view(), Qt.Key.Key_Return, Qt.KeyboardModifier.ShiftModifier)
    assert "Bottle" not in matrix.folded_groups()
    assert matrix.chosen() == ("hand-bottle", "Bottle.in")


def test_a_click_chooses_a_cell_that_applies(qtbot: QtBot) -> None:
    matrix = matrix_of(qtbot)
    with qtbot.waitSignal(matrix.cellChosen) as chosen:
        qtbot.mouseClick(matrix.view().viewport(), LEFT, pos=matrix.cell_centre("hand-bottle", "Gear.R"))
    assert chosen.args == ["hand-bottle", "Gear.R"]
    assert matrix.chosen() == ("hand-bottle", "Gear.R")
    with qtbot.assertNotEmitted(matrix.cellChosen):
        qtbot.mouseClick(
            matrix.view().viewport(), LEFT, pos=matrix.cell_centre("hand-bottle", "Handbrake.up")
        )
        qtbot.mouseClick(
            matrix.view().viewport(), LEFT, pos=matrix.view().visualRect(index(matrix, 0, 0)).center()
        )


def test_a_click_on_a_folded_cell_chooses_its_worst(qtbot: QtBot) -> None:
    matrix = matrix_of(qtbot, 700)
    with qtbot.waitSignal(matrix.cellChosen) as chosen:
        at = matrix.cell_centre("bottle-dash-underside", "Bottle.out")
        qtbot.mouseClick(matrix.view().viewport(), LEFT, pos=at)
    assert chosen.args == ["bottle-dash-underside", "Bottle.lifting"]


def test_arrows_go_from_cell_to_cell_that_applies(qtbot: QtBot) -> None:
    matrix = matrix_of(qtbot)
    view = matrix.view()
    view.setFocus()
    matrix.set_chosen("hand-bottle", "Gear.R")
    chosen: list[list[str]] = []
    matrix.cellChosen.connect(lambda row, column: chosen.append([row, column]))
    for key in (Qt.Key.Key_Right, Qt.Key.Key_Down, Qt.Key.Key_Right, Qt.Key.Key_Up, Qt.Key.Key_Left):
        qtbot.keyClick(view, key)
        qtbot.keyClick(view, Qt.Key.Key_Return)
    assert chosen == [
        ["hand-bottle", "Bottle.in"],
        ["bottle-dash-underside", "Bottle.in"],
        ["bottle-dash-underside", "Bottle.lifting"],
        # Nothing above it in its column: the key leads nowhere.
        ["bottle-dash-underside", "Bottle.lifting"],
        ["bottle-dash-underside", "Bottle.in"],
    ]


def test_a_cell_speaks_pair_state_and_finding(qtbot: QtBot) -> None:
    matrix = matrix_of(qtbot)
    assert spoken(matrix, 0, 7) == "Hand to bottle, Gear R: hits −6"
    assert spoken(matrix, 0, 8) == "Hand to bottle, Handbrake down: does not apply"
    assert spoken(matrix, 0, 6) == "Hand to bottle, Gear 5: clear 58, from before the last change"
    assert spoken(matrix, 2, 1) == "Cup well to tunnel flank, Gear N: unseen"
    table = matrix.table()
    told = "Knuckles hit the bottle in reverse by 6 mm (give or take 2)."
    cell = replace(table.cells["hand-bottle", "Gear.R"], tell=lambda: told)
    matrix.set_table(replace(table, cells={**table.cells, ("hand-bottle", "Gear.R"): cell}))
    assert spoken(matrix, 0, 7) == f"Gear R: {told}"
    assert index(matrix, 0, 7).data(Qt.ItemDataRole.ToolTipRole) == f"Gear R: {told}"


def test_the_chosen_cell_stays_chosen_when_numbers_change(qtbot: QtBot) -> None:
    matrix = matrix_of(qtbot)
    matrix.set_chosen("hand-dash", "Gear.3")
    table = matrix.table()
    matrix.set_table(replace(table, rows=tuple(reversed(table.rows))))
    assert matrix.chosen() == ("hand-dash", "Gear.3")
    [selected] = matrix.view().selectionModel().selectedIndexes()
    assert selected.row() == len(table.rows) - 4
    matrix.set_chosen("hand-dash", "no such")
    assert matrix.view().selectionModel().selectedIndexes() == []


def cell_picture(cell: MatrixCell | None) -> object:
    size = QSize(round(CELL_WIDTH), round(CELL_HEIGHT) - 4)
    rect = QRectF(0, 0, size.width(), size.height())
    return drawn(size, lambda painter: paint_cell(painter, rect, cell), load_theme("light").paper, 2.0)


def test_failing_cells_are_boxed_unseen_hatched_and_the_rest_bare() -> None:
    theme = load_theme("light")
    for verdict in VERDICTS:
        sheet = cell_picture(MatrixCell(verdict=verdict, value="12"))
        rim = of_colour(sheet, theme.verdict(verdict), 60)[:4, 16:-16].any(axis=0).mean()
        assert (rim > 0.95) == (verdict in ("hits", "short"))
        if verdict == "unseen":
            assert 0.15 < of_colour(sheet, theme.unseen, 90)[8:-8].mean() < 0.75


def test_in_a_wide_column_shape_and_number_stay_side_by_side_under_the_heading() -> None:
    wide = QRectF(10.0, 0.0, 200.0, 25.0)
    for value in ("5", "\u22123\u200911\u204416", "\u2265\u200912\u2009345.5"):
        inner = own_rect(wide, MatrixCell(verdict="clear", value=value))
        assert inner.center().x() == pytest.approx(wide.center().x())
        needed = text_width(value, text_font(BODY, BOLDER)) + 12 + 4 + 2 + 5
        assert needed <= inner.width() <= max(CELL_MOST, needed + 2)
    narrow = QRectF(0.0, 0.0, CELL_WIDTH, 25.0)
    assert own_rect(narrow, MatrixCell(verdict="clear", value="5")) == narrow
    assert own_rect(wide, None).center() == wide.center()


def test_names_give_way_before_the_word_of_an_axis_is_cut(qtbot: QtBot) -> None:
    """One stop under a long word, long names, and just too little room for all."""
    groups = (
        MatrixGroup(word="Gear", columns=tuple(MatrixColumn(id=f"g{n}", word=str(n)) for n in range(12))),
        MatrixGroup(word="Passenger\u2019s seat", columns=(MatrixColumn(id="n6", word="6"),)),
    )
    rows = (MatrixRow(id="r", first="Forearm", second="right bolster of the passenger\u2019s seat"),)
    cells = {("r", "n6"): MatrixCell(verdict="clear", value="5")}
    matrix = StateMatrix(MatrixTable(groups=groups, rows=rows, cells=cells))
    qtbot.addWidget(matrix)
    matrix.show()
    head = group_word_width(groups[1].word)
    columns = sum(column_width(str(n), n == 0) for n in range(12))
    # Names at their widest, the columns, and 20 too few for the long word.
    room = round(scaled(220)) + columns + head - 20
    matrix.resize(room + matrix.width() - matrix.view().viewport().width(), 300)
    qtbot.wait(10)
    assert matrix.view().viewport().width() == room
    assert matrix.folded_groups() == ()
    assert matrix.view().columnWidth(13) >= head
    assert 176 <= matrix.view().columnWidth(0) <= 220 - 19


def test_a_stale_cell_has_a_dashed_border_and_a_quiet_number() -> None:
    theme = load_theme("light")
    for verdict in ("clear", "close", "hits"):
        fresh = cell_picture(MatrixCell(verdict=verdict, value="88"))
        stale = cell_picture(MatrixCell(verdict=verdict, value="88", stale=True))
        border = of_colour(stale, theme.hits if verdict == "hits" else theme.ink2, 90)[:4, 16:-16].any(axis=0)
        assert 0.3 < border.mean() < 0.85
        assert of_colour(fresh, theme.ink, 20).sum() > 20
        assert of_colour(stale, theme.ink, 20).sum() == 0


def test_a_state_that_cannot_change_a_cell_is_one_small_dot() -> None:
    theme = load_theme("light")
    sheet = cell_picture(None)
    inked = ~of_colour(sheet, theme.paper, 8)
    assert 4 <= inked.sum() <= 60
    assert not inked[:, :30].any()


def test_title_line_switch_and_legend_are_there(qtbot: QtBot) -> None:
    matrix = matrix_of(qtbot)
    assert SECOND_LINE in [label.text() for label in matrix.findChildren(QLabel)]
    legend = matrix.findChild(ShapeLegend)
    assert all(verdict in legend.accessibleName() for verdict in VERDICTS)
    switch = matrix.findChild(QCheckBox)
    with qtbot.waitSignal(matrix.nowChosen) as now:
        qtbot.mouseClick(switch, LEFT, pos=switch.rect().center() / 4)
    assert now.args == [True]
    with qtbot.assertNotEmitted(matrix.nowChosen):
        matrix.set_now(False)
    assert not switch.isChecked()


@pytest.mark.parametrize("percent", [100, 150, 200])
def test_cells_are_large_enough_to_hit(qtbot: QtBot, percent: int) -> None:
    use_fonts(percent)
    matrix = matrix_of(qtbot, 1022 * percent // 100)
    rect = matrix.view().visualRect(index(matrix, 0, 2))
    assert rect.width() >= 44 * percent / 100
    assert rect.height() >= 29 * percent // 100


def test_an_empty_matrix_is_no_trouble(qtbot: QtBot) -> None:
    matrix = matrix_of(qtbot, table=MatrixTable())
    matrix.set_table(matrix_table())
    matrix.set_table(MatrixTable())
    assert matrix.view().model().rowCount() == 0
