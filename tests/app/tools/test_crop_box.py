"""A face of the crop box follows the mouse along its own normal."""

import numpy as np
import pytest

from app.tools.sights import at
from floorpan.frames import Pose
from floorpan_app.tools.crop_box import THINNEST_MM, CropBox, CropBoxTool
from floorpan_app.tools.events import Modifiers

BOX = CropBox(least_mm=(100.0, -330.0, -60.0), greatest_mm=(1180.0, 330.0, 240.0))


def test_the_face_goes_where_the_mouse_points_on_its_axis() -> None:
    tool = CropBoxTool(BOX)
    middle = BOX.middle_mm("x-greatest")
    assert middle == (1180.0, 0.0, 90.0)
    tool.press(at(middle, grip="crop:x-greatest"))
    # The mouse is on the axis itself, 130 mm nearer: the face stands there and nothing else moved.
    proposed = tool.move(at((1050.0, 0.0, 90.0)))
    assert proposed is not None
    assert proposed.kind == "preview"
    assert proposed.value.greatest_mm == pytest.approx((1050.0, 330.0, 240.0))
    assert proposed.value.least_mm == BOX.least_mm
    done = tool.release(at((1050.0, 0.0, 90.0)))
    assert done is not None
    assert done.kind == "done"
    assert done.value == tool.box


def test_a_grip_taken_off_its_middle_does_not_jump() -> None:
    tool = CropBoxTool(BOX)
    tool.press(at((1186.0, 3.0, 92.0), grip="crop:x-greatest"))
    proposed = tool.move(at((1186.0, 3.0, 92.0)))
    assert proposed is not None
    assert proposed.value == BOX


def test_a_press_and_release_without_a_move_makes_no_entry() -> None:
    tool = CropBoxTool(BOX)
    tool.press(at(BOX.middle_mm("z-least"), grip="crop:z-least"))
    assert tool.release(at(BOX.middle_mm("z-least"))) is None


def test_a_face_stops_before_the_opposite_one_and_says_so() -> None:
    tool = CropBoxTool(BOX)
    tool.press(at(BOX.middle_mm("z-greatest"), grip="crop:z-greatest"))
    proposed = tool.move(at((640.0, 0.0, -500.0), eye=(640.0, -3000.0, 0.0)))
    assert proposed is not None
    assert proposed.value.greatest_mm[2] == pytest.approx(BOX.least_mm[2] + THINNEST_MM)
    assert "thin" in proposed.reason


def test_the_mouse_can_come_back_from_beyond_a_stop() -> None:
    tool = CropBoxTool(BOX)
    side = (640.0, -3000.0, 0.0)
    tool.press(at(BOX.middle_mm("z-greatest"), grip="crop:z-greatest", eye=side))
    tool.move(at((640.0, 0.0, -500.0), eye=side))
    proposed = tool.move(at((640.0, 0.0, 200.0), eye=side))
    assert proposed is not None
    assert proposed.value.greatest_mm[2] == pytest.approx(200.0)


def test_alt_moves_a_tenth() -> None:
    tool = CropBoxTool(BOX)
    fine = Modifiers(alt=True)
    tool.press(at((1180.0, 0.0, 90.0), grip="crop:x-greatest"))
    proposed = tool.move(at((1080.0, 0.0, 90.0), modifiers=fine))
    assert proposed is not None
    assert proposed.value.greatest_mm[0] == pytest.approx(1170.0)


def test_a_box_that_stands_turned_moves_along_its_own_axis() -> None:
    pose = Pose.turned((0.0, 0.0, 1.0), 30.0, (200.0, 50.0, 0.0))
    tool = CropBoxTool(BOX, pose)
    start = pose.apply(np.array(BOX.middle_mm("y-least")))
    end = pose.apply(np.add(BOX.middle_mm("y-least"), (0.0, -40.0, 0.0)))
    tool.press(at(tuple(start.tolist()), grip="crop:y-least"))
    proposed = tool.move(at(tuple(end.tolist())))
    assert proposed is not None
    assert proposed.value.least_mm == pytest.approx((100.0, -370.0, -60.0))


@pytest.mark.parametrize(
    ("modifiers", "step"),
    [(Modifiers(), 1.0), (Modifiers(shift=True), 10.0), (Modifiers(alt=True), 0.1)],
)
def test_arrows_move_the_face_last_taken(modifiers: Modifiers, step: float) -> None:
    tool = CropBoxTool(BOX)
    assert tool.key("right", modifiers) is None
    tool.choose("y-greatest")
    more = tool.key("right", modifiers)
    assert more is not None
    assert more.kind == "done"
    assert more.value.greatest_mm[1] == pytest.approx(330.0 + step)
    less = tool.key("left", modifiers)
    assert less is not None
    assert less.value.greatest_mm[1] == pytest.approx(330.0)


def test_a_number_can_be_typed() -> None:
    tool = CropBoxTool(BOX)
    assert tool.type_face("x-least", 180.0).value.least_mm == (180.0, -330.0, -60.0)
    refused = tool.type_face("x-least", 5000.0)
    assert refused.value.least_mm[0] == 1180.0 - THINNEST_MM
    assert refused.reason


def test_escape_puts_the_box_back() -> None:
    tool = CropBoxTool(BOX)
    tool.press(at((1180.0, 0.0, 90.0), grip="crop:x-greatest"))
    tool.move(at((900.0, 0.0, 90.0)))
    back = tool.key("escape", Modifiers())
    assert back is not None
    assert back.kind == "back"
    assert back.value == BOX
    assert tool.release(at((900.0, 0.0, 90.0))) is None


def test_a_press_on_no_grip_takes_nothing() -> None:
    tool = CropBoxTool(BOX)
    assert tool.press(at((640.0, 0.0, 0.0), hit="scan-1")) is None
    assert tool.move(at((700.0, 0.0, 0.0))) is None
    assert tool.box == BOX
