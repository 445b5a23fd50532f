"""A finding's number is rounded once: cell, row and sentence say the same one, and rows stand as the words tell."""

import re

from hypothesis import example, given
from hypothesis import strategies as st

from core.report.made_up import finding, layout
from floorpan.checks.finding import rank, verdict_of
from floorpan.items.states import state_of
from floorpan.limits import COMMON, Limit
from floorpan.report.matrix import matrix
from floorpan.report.rows import row_of
from floorpan.report.sentences import sentence
from floorpan.units import System

HAND = ("driver-1.hand", "vessel-1")
REVERSE = state_of({"shifter-1.gear": "R"})


@given(st.floats(-80.0, 120.0), st.floats(0.1, 20.0), st.sampled_from(["mm", "in"]))
@example(-6.3, 1.5, "mm")
@example(0.4, 2.0, "mm")
@example(-6.3, 1.5, "in")
def test_cell_row_and_sentence_say_one_number(value: float, u: float, system: System) -> None:
    told = finding("hand-vessel", HAND, value, u, state=REVERSE)
    row = row_of(told, layout(), system)
    (only,) = matrix((told,), layout(), system).rows
    assert [cell.value for cell in only.cells if cell is not None] == [row.value]
    size = row.value.removeprefix("\u2212")
    said = sentence(told, layout(), system)
    if said.startswith("Knuckles touch "):
        # What touches is told in a word, and stands as nought in a table.
        assert size == "0"
    else:
        assert re.search(rf"(?<![\d\u2044\u2009.]){re.escape(size)} {system}\b", said), said
    assert ("\u2212" in row.value) == said.startswith("Knuckles hit ")


def test_a_depth_between_two_numbers_is_the_same_everywhere() -> None:
    """6.3 deep, known to 1.5: halves of a millimetre, the next deeper one is 6.5; neither 6 nor 7."""
    told = finding("hand-vessel", HAND, -6.3, 1.5, state=REVERSE)
    assert row_of(told, layout()).value == "\u22126.5"
    assert sentence(told, layout()) == "Knuckles hit the bottle in reverse by 6.5 mm (give or take 1.5)."


def test_worst_first_is_as_the_words_tell_it() -> None:
    """`10 short of 20 stands before 12 short of 100`: by the share of what is wanted, not by millimetres."""

    def missing(name: str, value: float, wanted: float) -> tuple[int, float, str]:
        limit = Limit(id=name, value=wanted, sense="at_least", unit="mm", source=COMMON)
        assert verdict_of(value, 1.0, limit, is_gap=True) == "short"
        return rank(finding("hand-vessel", (name, "scan-1"), value, 1.0, limit=limit))

    assert missing("b", 10.0, 20.0) < missing("a", 88.0, 100.0)
