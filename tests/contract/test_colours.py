"""Every colour of the app stands in one table; no other module writes one down."""

import re
from collections.abc import Iterable, Iterator

from contract.sources import APP, Module, made_up, modules

COLOUR = re.compile(r"#[0-9A-Fa-f]{6}(?:[0-9A-Fa-f]{2})?\b")
THE_RECORD = "floorpan_app.theme.record"


def faults(app: Iterable[Module]) -> Iterator[str]:
    for module in app:
        if module.name != THE_RECORD:
            for number, line in enumerate(module.text.splitlines(), 1):
                yield from (f"{module.where}:{number} {colour}" for colour in COLOUR.findall(line))


def test_no_colour_is_written_down_outside_the_record() -> None:
    assert list(faults(modules(APP))) == []


def test_a_colour_written_down_is_found() -> None:
    red = "#" + "c0" * 3
    assert len(list(faults([made_up("floorpan_app.cards.scan", f"RED = '{red}'")]))) == 1
    assert list(faults([made_up(THE_RECORD, f"RED = '{red}'")])) == []
    assert list(faults([made_up("floorpan_app.cards.scan", "# issue #123, #RRGGBB")])) == []
