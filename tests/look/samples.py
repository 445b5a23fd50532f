"""What the pieces are shown with in tests and on the contact sheet. An invented car; numbers are illustrations."""

from floorpan_app.widgets.gap_rule import GapReading
from floorpan_app.widgets.gate_pattern import Gear
from floorpan_app.widgets.ledger_rows import LedgerRow
from floorpan_app.widgets.matrix_table import MatrixCell, MatrixColumn, MatrixGroup, MatrixRow, MatrixTable
from floorpan_app.widgets.step_strip import Step
from floorpan_app.widgets.ticket import TicketText
from floorpan_app.widgets.tight_spot import Spot
from floorpan_app.widgets.verb_button import Verb
from floorpan_app.widgets.words import Word

MEASURE = "Measure a point there"

STEPS = tuple(
    Step(id=word.lower(), word=word, mark=mark, in_hand=word == "Controls")
    for word, mark in (
        ("Scan", "accepted"), ("Axes", "accepted"), ("Floor", "as it is"), ("Driver", "look again"),
        ("Controls", "open"), ("Cup", "open"), ("Console", "open"), ("Pieces", "open"), ("Check", "open"),
        ("Report", "open"),
    )
)  # fmt: skip

READINGS = (
    GapReading(verdict="hits", value=-6, give_or_take=2, wanted=30, wanted_text="30"),
    GapReading(
        verdict="short",
        value=14,
        give_or_take=3,
        wanted=30,
        wanted_text="30",
        sentence="Knuckles come within 14 mm of the dash in 3rd: 16 short of 30.",
    ),
    GapReading(verdict="close", value=28, give_or_take=3, wanted=30, wanted_text="30"),
    GapReading(verdict="unseen", value=None, wanted=25, wanted_text="25"),
    GapReading(verdict="pending", value=None, wanted=25, wanted_text="25"),
    GapReading(verdict="clear", value=44, give_or_take=3, wanted=25, wanted_text="25"),
    GapReading(verdict="clear", value=140, give_or_take=3, wanted=25, wanted_text="25"),
)

SPOT = Spot(
    id="hand-bottle-R",
    verdict="hits",
    sentence="Knuckles hit the bottle in reverse by 6 mm (give or take 2).",
    reading=READINGS[0],
    cure="Rearward 38 mm would clear it.",
)

TICKETS = (
    TicketText(id="t1", verdict="clear", value="41", give_or_take="± 3", part="dash"),
    TicketText(id="t2", verdict="close", value="17", give_or_take="± 3", part="dash"),
    TicketText(id="t3", verdict="hits", value="−6", give_or_take="give or take 2", part="bottle"),
    TicketText(id="t4", verdict="short", value="26", give_or_take="± 2", part="dash", stale=True),
    TicketText(id="t5", verdict="unseen", part="cup well", doing=MEASURE),
    TicketText(id="t6", verdict="pending", part="buckle"),
    TicketText(id="t7", verdict="clear", value="2\u20091\u204416", give_or_take="± 1\u20448", part="rim"),
)

GEARS = tuple(
    Gear(gear=gear, column=column, row=row, verdict=verdict, value=value, part=part)
    for gear, column, row, verdict, value, part in (
        ("1", 0, 0, "clear", "48", "dash"), ("2", 0, 1, "clear", "39", "bottle"), ("3", 1, 0, "close", "17", "dash"),
        ("4", 1, 1, "short", "12", "bottle"), ("5", 2, 0, "clear", "44", "rim"), ("R", 2, 1, "hits", "−6", "bottle"),
    )
)  # fmt: skip

ROWS = (
    LedgerRow(id="r1", verdict="hits", title="Knuckles hit the bottle in reverse",
              second="Cure: bottle rearward 38", value="−6", give_or_take="± 2"),
    LedgerRow(id="r2", verdict="short", title="Bottle to the dash, lifting",
              second="30 wanted · default, edit me", value="26", give_or_take="± 2"),
    LedgerRow(id="r3", verdict="close", title="Knuckles near the dash in 3rd",
              second="15 wanted · common practice", value="17", give_or_take="± 3", stale=True),
    LedgerRow(id="r4", verdict="unseen", title="Lever mount, driver side front foot",
              second="Nothing was scanned there.", doing=MEASURE),
    LedgerRow(id="r5", verdict="pending", title="Buckle hand, notch 4 and 9", second="Being worked out"),
    LedgerRow(id="r6", verdict="clear", title="Handbrake hand, half up",
              second="30 wanted over it · common practice", value="36", give_or_take="± 2"),
)  # fmt: skip

VERBS = (
    Verb(id="place", word="Place", icon="place"),
    Verb(id="shifter", word="Shifter", icon="shifter"),
    Verb(id="handbrake", word="Handbrake", icon="handbrake"),
    Verb(id="buckle", word="Buckle", icon="buckle", enabled=False),
    Verb(id="measure", word="Measure", icon="measure", key="P"),
    Verb(id="station", word="Station", icon="station", key="S"),
)

SEEN_FROM = tuple(
    Word(id=word, word=word, on=word == "free")
    for word in ("driver", "passenger", "above", "front", "rear", "free")
)
SHOWING = tuple(
    Word(id=word, word=word, on=word != "driver") for word in ("scan", "carpet", "seats", "driver", "console")
)

_AXES = {
    "Gear": ("N", "1", "2", "3", "4", "5", "R"),
    "Handbrake": ("down", "half", "up"),
    "Seat notch": ("4", "6", "9"),
    "Bottle": ("in", "lifting", "out"),
}
_SHORT_FORM = {"h": "hits", "s": "short", "k": "close", "u": "unseen", "p": "pending", "c": "clear"}
# One row a line: first, second, then verdict letter and number for every column; a dot does not apply.
_GRID = """
Hand|bottle|k31 c62 c39 c66 h−2 c58 h−6 . . . . . . h−6 . .
Bottle|dash underside|. . . . . . . . . . . . . c140 s26 .
Cup well|tunnel flank|u u u u u u u . . . . . . u u u
Hand|dash|c61 c48 c80 k17 c84 c52 c83 . . . . . . . . .
Forearm|armrest front|c44 c71 c36 c74 k27 c70 c38 . . . k27 c36 c49 . . .
Buckle hand|console|. . . . . . . . . . p c52 p . . .
Handbrake hand|console|. . . . . . . c38 c36 c41 . . . . . .
Seat bolster|console|. . . . . . . . . . c29 c32 c33 . . .
"""


def matrix_table() -> MatrixTable:
    """A matrix with every kind of cell."""
    groups = tuple(
        MatrixGroup(word=axis, columns=tuple(MatrixColumn(id=f"{axis}.{stop}", word=stop) for stop in stops))
        for axis, stops in _AXES.items()
    )
    columns = [column.id for group in groups for column in group.columns]
    rows, cells = [], {}
    for line in _GRID.strip().splitlines():
        first, second, marks = line.split("|")
        row = MatrixRow(id=f"{first}-{second}".replace(" ", "-").lower(), first=first, second=second)
        rows.append(row)
        for column, mark in zip(columns, marks.split(), strict=True):
            if mark != ".":
                value = mark[1:]
                margin = float(value.replace("−", "-")) if value else 0.0
                cells[row.id, column] = MatrixCell(
                    verdict=_SHORT_FORM[mark[0]], value=value, margin=margin, stale=column == "Gear.5"
                )
    return MatrixTable(groups=groups, rows=tuple(rows), cells=cells)
