"""A part from a mesh file in the picture: as its mesh once that was made ready, dragged by the mouse for one entry."""

import numpy as np
import pytest
from PySide6.QtCore import QPoint

from app.stage.conftest import RAW, Open
from core.checks.test_mesh_parts import part_of
from core.geometry.test_mesh_solids import channel
from core.small_case import raw_scan, small_layout
from floorpan import edits
from floorpan.items import MeshPart, Place

pytestmark = pytest.mark.real_view

CHANNEL = raw_scan(channel())
PLACE = Place(x_mm=-300.0, y_mm=200.0)


def test_it_is_drawn_as_its_mesh_and_dragged(open_bench: Open) -> None:
    bench = open_bench(small_layout(RAW), {RAW.sha256: RAW, CHANNEL.sha256: CHANNEL})
    for word in ("driver", "seats", "console", "cup"):
        bench.stage.show(word, False)
    bench.desk.go_to("controls")
    bench.look((-300.0, 200.0, 100.0), heading=100.0, rise=-60.0)
    part = part_of(CHANNEL, place=PLACE)
    assert bench.desk.change("place it", lambda layout: edits.add(layout, part)[0])
    name = "mesh-part-1.body"
    # Its box stands there until its mesh was made ready.
    [box] = bench.stage._contents.held()[name].body
    assert box.hull.uneven is None
    assert np.ptp(box.box(), axis=0).tolist() == [200.0, 100.0, 80.0]
    bench.settle()
    [drawn] = bench.stage._contents.held()[name].body
    assert drawn.hull.uneven is not None
    bench.desk.select("mesh-part-1")
    entries = bench.entries()
    # Into the channel one looks at its floor, 20 over where it stands, and not at a lid.
    at = bench.at((-300.0, 205.0, 20.0))
    bench.drag(at, at + QPoint(40, 10))
    moved = bench.layout.thing("mesh-part-1")
    assert isinstance(moved, MeshPart)
    assert bench.entries() == entries + 1
    assert np.hypot(moved.place.x_mm - PLACE.x_mm, moved.place.y_mm - PLACE.y_mm) > 5.0
    assert moved.place.z_mm == 0.0
    bench.desk.document.undo()
    assert bench.layout.thing("mesh-part-1").place == PLACE
