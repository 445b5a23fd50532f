"""What else moves, by the mouse: set down with a click, seen, dragged for one entry, and back again."""

import numpy as np
import pytest
from PySide6.QtCore import QPoint

from app.stage.bench import Bench
from app.stage.conftest import RAW, Open
from core.small_case import small_layout
from floorpan.items import Buckle, Door
from floorpan.layout import record_of
from floorpan_app.cards.fitting_kinds import fittings_of
from floorpan_app.stage.new_fittings import NEW_FITTINGS

# What is clicked under where it hangs.
_HANGS_MM = {"wheel": 650.0, "dash edge": 500.0, "door": 150.0}

pytestmark = pytest.mark.real_view


@pytest.fixture
def bench(open_bench: Open) -> Bench:
    bench = open_bench(small_layout(RAW), {RAW.sha256: RAW})
    for word in ("driver", "seats", "console", "cup"):
        bench.stage.show(word, False)
    bench.desk.go_to("controls")
    bench.look((-300.0, 200.0, 100.0), heading=100.0, rise=-60.0)
    return bench


@pytest.mark.parametrize("kind", NEW_FITTINGS)
def test_it_is_set_down_where_one_clicks_and_dragged(bench: Bench, kind: str) -> None:
    bench.desk.use_tool(f"place {kind}")
    bench.click(bench.at((-300.0, 200.0, 0.0)))
    [thing] = fittings_of(bench.layout)
    assert record_of(thing).kind == kind
    assert bench.desk.selection == thing.id
    assert (thing.place.x_mm, thing.place.y_mm) == pytest.approx((-300.0, 200.0), abs=3.0)
    assert thing.place.z_mm == pytest.approx(_HANGS_MM.get(kind, 0.0), abs=0.5)
    if isinstance(thing, Buckle):
        assert thing.seat_id == "seat-1"
    if isinstance(thing, Door):
        assert thing.side == "right"
    bench.settle()
    part = [one.name for one in record_of(thing).parts(thing) if one.name != "button"][-1]
    assert f"{thing.id}.{part}" in bench.stage._contents.held()
    entries = bench.entries()
    body = record_of(thing).envelope(thing, part, {})
    x, y, z = (float(v) for v in body[0].points().mean(axis=0))
    # Beside the middle, through which the seams of a box's sides run.
    at = bench.at((x, y + 5.0, z))
    bench.drag(at, at + QPoint(40, 10))
    moved = bench.layout.thing(thing.id).place
    assert bench.entries() == entries + 1
    assert np.hypot(moved.x_mm - thing.place.x_mm, moved.y_mm - thing.place.y_mm) > 5.0
    assert moved.z_mm == pytest.approx(thing.place.z_mm)
    bench.desk.document.undo()
    assert bench.layout.thing(thing.id) == thing
