"""Verdict shapes, the gap rule and the gate card."""

import dataclasses

import pytest

from core.report.made_up import WANTED, facts, finding, findings, layout
from floorpan.checks.finding import WORST_FIRST, Finding
from floorpan.driver import Person
from floorpan.items import Shifter
from floorpan.items.states import state_of
from floorpan.layout import Layout
from floorpan.limits import LIMITS
from floorpan.report import words
from floorpan.report.blocks import Beside
from floorpan.report.content import first_page
from floorpan.report.display import Drawing, Stroke, Words
from floorpan.report.gap_rule import gap_rule, scale_of
from floorpan.report.gate_card import GearLine, gate_card, gear_lines
from floorpan.report.palette import colour
from floorpan.report.shapes import shape_drawing

HAND = ("driver-1.hand", "vessel-1")


def points(drawing: Drawing) -> list[tuple[float, float]]:
    return [p for mark in drawing.marks if isinstance(mark, Stroke) for _, held in mark.path for p in held]


def test_each_verdict_has_a_shape_of_its_own_and_its_word() -> None:
    drawn = [shape_drawing(verdict) for verdict in WORST_FIRST]
    outlines = [tuple(mark.path for mark in one.marks if isinstance(mark, Stroke)) for one in drawn]
    assert len(set(outlines)) == len(WORST_FIRST)
    assert [one.says for one in drawn] == [words.VERDICTS[verdict] for verdict in WORST_FIRST]
    for one in drawn:
        assert all(0 <= x <= one.width_mm and 0 <= y <= one.height_mm for x, y in points(one))


@pytest.mark.parametrize("value", [-80.0, -5.6, 0.0, 29.0, 31.0, 55.0, 4000.0, None])
def test_the_rule_keeps_inside_its_sheet(value: float | None) -> None:
    drawn = gap_rule(finding("hand-vessel", HAND, value), 34.0)
    assert all(-0.01 <= x <= 34.01 and -0.01 <= y <= drawn.height_mm + 0.01 for x, y in points(drawn))


def test_the_rule_runs_as_it_should() -> None:
    """Touch at a quarter of -20 to 60, wanted at 30, the value's shape in the verdict's colour where it belongs."""
    told = finding("hand-vessel", HAND, 42.0)
    drawn = gap_rule(told, 34.4)
    assert scale_of(told) == (-20.0, 60.0)
    inner = 34.4 - 4.4
    strokes = [mark for mark in drawn.marks if isinstance(mark, Stroke)]
    wanted = next(mark for mark in strokes if mark.dash)
    assert wanted.path[0][1][0][0] == pytest.approx(2.2 + inner * 50 / 80)
    whisker = next(mark for mark in strokes if mark.stroke == colour("clear"))
    ends = [held[0][0] for _, held in whisker.path]
    assert ends == pytest.approx([2.2 + inner * 60 / 80, 2.2 + inner * 64 / 80])


@pytest.mark.parametrize("check", sorted(LIMITS))
def test_every_limit_lies_on_its_rule(check: str) -> None:
    limit = LIMITS[check]
    low, high = scale_of(finding(check, HAND, limit.value, limit=limit))
    assert low <= limit.value <= high
    assert limit.upper is None or limit.upper <= high


def test_a_limit_beyond_the_usual_scale_moves_the_scale() -> None:
    wide = dataclasses.replace(WANTED["hand-vessel"], value=120.0)
    low, high = scale_of(finding("hand-vessel", HAND, 90.0, limit=wide))
    assert low <= 0.0
    assert high >= 120.0


def shifter() -> Shifter:
    return layout().of(Shifter)[0]


def test_the_gate_card_has_a_letter_in_every_gear_where_the_gate_has_it() -> None:
    drawn = gate_card(gear_lines(findings(), shifter()), shifter())
    at = {mark.text: mark.at for mark in drawn.marks if isinstance(mark, Words)}
    assert set(at) == {"1", "2", "3", "4", "5", "R"}
    assert at["1"][0] == at["2"][0] < at["3"][0] == at["4"][0] < at["5"][0] == at["R"][0]
    assert at["1"][1] == at["3"][1] == at["5"][1] > at["2"][1] == at["4"][1] == at["R"][1]


def test_the_gate_card_tells_the_worst_of_each_gear() -> None:
    lines = {line.gear: line for line in gear_lines(findings(), shifter())}
    assert lines["R"].worst is not None
    assert lines["R"].worst.verdict == "hits"
    assert lines["1"].reach is not None
    assert dict(lines["1"].reach.state)["seat-1.notch"] == "1"
    assert "reverse: hits" in gate_card(tuple(lines.values()), shifter()).says


def test_loose_belts_do_not_help_the_reach_of_a_gear() -> None:
    at = {"shifter-1.gear": "3", "seat-1.notch": "6"}
    held = [
        finding(
            "reach",
            ("driver-1.hand", "shifter-1.knob"),
            value,
            5.0,
            state=state_of(at | {"driver-1.belts": belts}),
        )
        for belts, value in (("loose", -80.0), ("tight", 60.0))
    ]
    line = next(line for line in gear_lines(held, shifter()) if line.gear == "3")
    assert line.reach is not None
    assert line.reach.value == 60.0


def test_the_way_to_a_gear_counts_as_that_gear() -> None:
    held = [finding("hand-vessel", HAND, -1.0, state=state_of({"shifter-1.gear": "N-4"}))]
    verdicts = {line.gear: line.worst for line in gear_lines(held, shifter())}
    assert verdicts["4"] is not None
    assert verdicts["N"] is None


def of_two(gear: str = "N") -> list[Finding]:
    """The reach and elbow of a taped driver at two notches and of a driver nobody taped, as a user found them."""
    told = []
    for person, notch, spare, u, bent in (
        ("driver-1", "5", 53.0, 15.0, 104.0),
        ("driver-1", "6", 80.0, 15.0, 110.0),
        ("driver-2", "5", 113.0, 65.0, 158.0),
    ):
        state = state_of({"shifter-1.gear": gear, "seat-1.notch": notch, f"{person}.belts": "tight"})
        ends = (f"{person}.hand", "shifter-1.knob")
        told += [
            finding("reach", ends, spare, u, state=state),
            finding("elbow", ends, bent, 12.0, state=state),
        ]
    return told


def test_of_two_drivers_a_gear_tells_the_one_of_whose_reach_least_is_sure() -> None:
    """53 less 15 is 38, 113 less 65 is 48: by the sums, not by the larger number; the elbow is the same driver's."""
    line = next(line for line in gear_lines(of_two(), shifter()) if line.gear == "N")
    assert line.reach is not None
    assert line.elbow is not None
    assert (line.reach.value, line.elbow.value) == (53.0, 104.0)


def test_who_falls_short_comes_before_whose_reach_is_less_known() -> None:
    """A driver who is 30 too far, give or take 15, before one 10 too far, give or take 60: that one is close only."""
    pair = [
        finding("reach", (f"{who}.hand", "shifter-1.knob"), value, u, state=state_of({"shifter-1.gear": "1"}))
        for who, value, u in (("driver-1", -30.0, 15.0), ("driver-2", -10.0, 60.0))
    ]
    assert [one.verdict for one in pair] == ["short", "close"]
    line = next(line for line in gear_lines(pair, shifter()) if line.gear == "1")
    assert line.reach is pair[0]


def test_the_table_names_whose_reach_it_is_where_two_drive() -> None:
    two = layout(
        people=tuple(
            Person(id=f"driver-{n}", name=name, seat_id="seat-1", notches_used=(5, 6))
            for n, name in ((1, "Driver"), (2, "Second"))
        )
    )

    def rows(held: Layout) -> list[str]:
        page = first_page(held, of_two(), facts(held), "mm", most_rows=5)
        [beside] = [block for block in page if isinstance(block, Beside)]
        return [f"{cell.text} {cell.second}".strip() for cell in beside.table.rows[0]]

    assert rows(two)[:3] == ["neutral", "53 \u00b1 15 Driver, notch 5", "104\u00b0 \u00b1 12"]
    assert rows(layout())[1] == "53 \u00b1 15"


def test_a_gear_is_sure_of_its_gap_once_all_that_stands_there_is_judged() -> None:
    at, seat = state_of({"shifter-1.gear": "4"}), ("shifter-1.lever", "seat-1")
    near = finding("hand-vessel", HAND, 42.0, state=at)
    far = finding("lever-seat", seat, 90.0, state=at, stale=True)
    way = finding("lever-seat", seat, 1.0, state=state_of({"shifter-1.gear": "N-4"}), stale=True)
    lifted = ("vessel-1.hand", "shifter-1")
    past = finding("lift-out-hand", lifted, -3.0, state=at, limit=WANTED["hand-vessel"], stale=True)

    def told(*findings: Finding) -> GearLine:
        return next(line for line in gear_lines(findings, shifter()) if line.gear == "4")

    assert told(near, way, past).sure
    assert not told(near, far).sure
    # A bottle lifted past the lever is told of the bottle.
    assert told(near, past).worst is near


def test_the_least_gap_of_a_gear_is_of_what_shifts_standing_there() -> None:
    """Not of a hand on a cup on its way out, nor on the way to the gear, nor of what has nothing to do with it."""
    at = state_of({"shifter-1.gear": "4", "vessel-1.place": "lifted"})
    wanted = WANTED["hand-vessel"]
    standing = [
        finding("hand-vessel", HAND, 42.0, state=state_of({"shifter-1.gear": "4"})),
        finding("lever-seat", ("shifter-1.lever", "seat-1"), 36.0, state=state_of({"shifter-1.gear": "4"})),
    ]
    others = [
        finding("lift-out-hand", ("vessel-1.hand", "shifter-1"), 3.0, state=at, limit=wanted),
        finding("hand-vessel", HAND, 12.0, state=state_of({"shifter-1.gear": "N-4"})),
        finding("seat-lever", ("seat-1", "shifter-1.box"), 5.0, state=at, limit=wanted),
    ]
    line = next(line for line in gear_lines([*others, *standing], shifter()) if line.gear == "4")
    assert line.gap is standing[1]
    # The arm shifts too, and what the knob comes to is told from either side.
    for subjects in (("driver-1.forearm", "scan-1"), ("handbrake-1.hand", "shifter-1.knob")):
        near = finding("forearm-scan", subjects, 30.0, state=state_of({"shifter-1.gear": "4"}), limit=wanted)
        line = next(line for line in gear_lines([*others, *standing, near], shifter()) if line.gear == "4")
        assert line.gap is near
    unseen = finding("hand-scan", ("driver-1.hand", "scan-1"), None, state=state_of({"shifter-1.gear": "4"}))
    line = next(line for line in gear_lines([*standing, unseen], shifter()) if line.gear == "4")
    assert line.gap is unseen
