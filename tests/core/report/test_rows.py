"""Rows, pairs and the state matrix."""

from itertools import product

from hypothesis import given
from hypothesis import strategies as st

from core.report.made_up import GEARS, finding, findings, layout
from floorpan.checks.finding import Finding, rank
from floorpan.items.states import state_of
from floorpan.report.matrix import as_it_stands, cell_sentence, matrix
from floorpan.report.rows import pair_of, pair_rows, rows, tight_spot

HAND = ("driver-1.hand", "vessel-1")


def test_rows_come_worst_first_and_none_is_lost() -> None:
    told = rows(findings(), layout())
    ranks = [rank(row.finding) for row in told]
    assert ranks == sorted(ranks)
    assert {row.finding.id for row in told} == {one.id for one in findings()}


def test_the_tight_spot_is_the_first_row() -> None:
    assert tight_spot(findings()) == rows(findings(), layout())[0].finding
    assert tight_spot(()) is None


def test_each_pair_stands_once_with_its_worst_state() -> None:
    told = pair_rows(findings(), layout())
    assert len(told) == len({pair_of(one) for one in findings()})
    assert sum(1 + pair.others for pair in told) == len(findings())
    for pair in told:
        own = [one for one in findings() if pair_of(one) == pair_of(pair.row.finding)]
        assert pair.row.finding == min(own, key=rank)


# --- matrix -----------------------------------------------------------------------------------------------------

AXES = {"shifter-1.gear": ("N", "1", "R"), "driver-1.belts": ("loose", "tight"), "seat-1.notch": ("1", "6")}


@st.composite
def judged(draw: st.DrawFn) -> list[Finding]:
    """A few pairs, each moved by some of the axes, with a value in every state of theirs."""
    held: list[Finding] = []
    for number in range(draw(st.integers(1, 4))):
        axes = draw(st.lists(st.sampled_from(sorted(AXES)), unique=True, max_size=3))
        for stops in product(*(AXES[axis] for axis in axes)):
            value = draw(st.one_of(st.none(), st.floats(-20.0, 80.0)))
            state = state_of(dict(zip(axes, stops, strict=True)))
            held.append(finding("hand-scan", ("driver-1.hand", f"scan-1.part-{number}"), value, state=state))
    return held


@given(judged())
def test_a_cell_is_the_worst_over_all_that_is_not_named(held: list[Finding]) -> None:
    made = matrix(held, layout())
    for row in made.rows:
        own = [one for one in held if pair_of(one) == row.pair]
        assert row.worst == min(own, key=rank)
        for column, cell, applies in zip(made.columns, row.cells, row.applies, strict=True):
            there = [one for one in own if (column.axis, column.stop) in one.state]
            assert applies == any(column.axis in dict(one.state) for one in own)
            assert (cell is None) == (not there)
            if cell is not None:
                assert cell.finding == min(there, key=rank)
                assert cell.states == len(there)


@given(judged())
def test_rows_of_the_matrix_come_worst_first(held: list[Finding]) -> None:
    ranks = [rank(row.worst) for row in matrix(held, layout()).rows]
    assert ranks == sorted(ranks)


@given(judged(), st.sampled_from(list(product(*AXES.values()))))
def test_as_the_car_stands_only_the_columns_own_axis_moves(
    held: list[Finding], stops: tuple[str, ...]
) -> None:
    standing = state_of(dict(zip(AXES, stops, strict=True)))
    made = matrix(held, layout(), standing=standing)
    wanted = dict(standing)
    for row in made.rows:
        for column, cell in zip(made.columns, row.cells, strict=True):
            if cell is not None:
                others = {axis: stop for axis, stop in cell.finding.state if axis != column.axis}
                assert others == {axis: wanted[axis] for axis in others}
                assert cell.states == 1
    for one in as_it_stands(held, standing):
        assert all(wanted[axis] == stop for axis, stop in one.state)


def test_stops_stand_in_the_order_of_the_gate_and_legs_behind() -> None:
    held = [
        finding("hand-vessel", HAND, 50.0, state=state_of({"shifter-1.gear": stop}))
        for stop in ("R", "N-R", "10", "2", "N", "1", "N-2", "N-1")
    ]
    titles = [column.title for column in matrix(held, layout()).columns]
    assert titles == ["N", "1", "2", "10", "R", "N\u20131", "N\u20132", "N\u2013R"]


def test_groups_follow_the_work_and_name_themselves() -> None:
    titles = [group.title for group in matrix(findings(), layout()).groups]
    assert titles == ["Gear", "Belts", "Seat notch", "Bottle"]


def test_a_cell_is_told_in_one_sentence_and_says_what_it_is_the_worst_of() -> None:
    made = matrix(findings(), layout())
    bottle = made.rows[0]
    told = {
        column.stop: cell_sentence(cell, layout())
        for column, cell in zip(made.columns, bottle.cells, strict=True)
        if cell is not None
    }
    assert told["R"] == "Knuckles hit the bottle in reverse by 6 mm (give or take 2)."
    assert told["in"] == f"{told['R']} Worst of {len(GEARS)} states."
    legs = next(row for row in made.rows if row.worst.check == "lever-scan")
    gears = [place for place, column in enumerate(made.columns) if column.stop == "1"]
    assert all(legs.cells[place] is None for place in gears)
