"""Where the knob shall be, in the picture of the steps that speak of it."""

import numpy as np
import pytest

from app.stage.bench import Bench
from floorpan import edits
from floorpan.items import Shifter, gate_table
from floorpan.layout import Layout, Step
from floorpan_app.stage.knob_target import KnobTarget, knob_target
from floorpan_app.stage.words import KNOB_TARGET

AT = (60.0, 12.0, 330.0)


def aimed(bench: Bench, step: Step) -> Layout:
    bench.desk.change("aim", lambda layout: edits.set_knob_target(layout, AT))
    bench.desk.go_to(step)
    bench.settle()
    return bench.desk.layout


@pytest.mark.parametrize("step", ["driver", "controls"])
def test_the_target_is_drawn_dashed_with_a_cross_and_its_name(small: Bench, step: Step) -> None:
    aimed(small, step)
    marks = small.marks
    [word] = [word for word in marks.words if word.text == KNOB_TARGET]
    assert word.at_mm == AT
    [ghost] = [ghost for ghost in marks.ghosts if np.allclose(ghost.body[0].pose.shift_mm, AT)]
    assert ghost.stroke == "dashed"
    assert ghost.body[0].hull.radius_mm == small.desk.layout.of(Shifter)[0].knob_radius_mm
    [cross] = [path for path in marks.paths if path.points_mm.shape == (3, 2, 3)]
    np.testing.assert_allclose(cross.points_mm.mean(axis=1), [AT] * 3)


def test_other_steps_and_layouts_without_one_draw_none(small: Bench) -> None:
    assert knob_target(small.desk.layout, "controls") == KnobTarget()
    layout = aimed(small, "cup")
    assert knob_target(layout, "cup") == KnobTarget()
    assert KNOB_TARGET not in [word.text for word in small.marks.words]


def test_undo_takes_it_out_of_the_picture(small: Bench) -> None:
    aimed(small, "controls")
    small.document.undo()
    small.settle()
    assert KNOB_TARGET not in [word.text for word in small.marks.words]


def test_a_knob_on_its_target_keeps_the_cross_and_the_name_alone(small: Bench) -> None:
    [shifter] = small.desk.layout.of(Shifter)
    there = edits.set_knob_target(small.desk.layout, gate_table(shifter)[0].knob_mm)
    found = knob_target(there, "controls")
    assert found.bodies == ()
    assert len(found.paths) == len(found.words) == 1


def test_the_same_target_gives_the_very_same_body() -> None:
    """An outline is worked out once for a body; without a shifter the usual knob stands for it."""
    layout = edits.set_knob_target(Layout(), AT)
    assert knob_target(layout, "driver").bodies[0] is knob_target(layout, "controls").bodies[0]
