"""Drawing an outline: corners by clicks, a stroke with the button down, closed on its first corner or by Enter."""

import math

import numpy as np
import pytest
from shapely.geometry import Polygon

from floorpan_app.tools.events import Modifiers, Pick, Sight, ToolEvent, Vector
from floorpan_app.tools.outline import DrawnOutline, Outline, frame_along

DOWN = (0.0, 0.0, -1.0)


def over(x: float, y: float, *, held: bool = True, forward: Vector = DOWN) -> ToolEvent:
    """The mouse over a place of the floor, seen along parallel lines; a pixel is 1 mm wide."""
    origin = tuple(a - 500.0 * b for a, b in zip((x, y, 0.0), forward, strict=True))
    sight = Sight(origin_mm=origin, direction=forward, forward=forward, pixel_mm=1.0)  # type: ignore[arg-type]
    hit = Pick(name="scan-1", point_mm=(x, y, 0.0), normal=(0.0, 0.0, 1.0), cell=0)
    return ToolEvent(x_px=x, y_px=y, sight=sight, hit=hit, held=held)


def click(tool: Outline, x: float, y: float) -> DrawnOutline | None:
    tool.press(over(x, y))
    proposal = tool.release(over(x, y))
    return proposal.value if proposal is not None else None


SQUARE = ((0.0, 0.0), (100.0, 0.0), (100.0, 60.0), (0.0, 60.0))


def on_the_floor(drawn: DrawnOutline) -> Polygon:
    return Polygon(drawn.points_mm()[:, :2])


def test_clicks_set_corners_and_the_first_closes() -> None:
    tool = Outline()
    for corner in SQUARE:
        drawn = click(tool, *corner)
        assert drawn is not None
        assert not drawn.closed
    closed = click(tool, 3.0, 2.0)
    assert closed is not None
    assert closed.closed
    assert len(closed.corners) == 4
    # The area of the rectangle that was clicked: closed form.
    assert on_the_floor(closed).area == pytest.approx(6000.0, abs=1e-6)
    assert {tuple(np.round(p, 6)) for p in closed.points_mm()[:, :2].tolist()} == set(SQUARE)


def test_enter_closes_and_escape_takes_one_corner_back() -> None:
    tool = Outline()
    for corner in SQUARE[:3]:
        click(tool, *corner)
    back = tool.key("escape", Modifiers())
    assert back is not None
    assert back.kind == "back"
    assert len(back.value.corners) == 2
    assert tool.key("enter", Modifiers()) is None, "two corners hold nothing"
    click(tool, *SQUARE[2])
    done = tool.key("enter", Modifiers())
    assert done is not None
    assert done.kind == "done"
    assert on_the_floor(done.value).area == pytest.approx(3000.0, abs=1e-6)
    opened = tool.key("escape", Modifiers())
    assert opened is not None
    assert not opened.value.closed
    assert len(opened.value.corners) == 3


def test_one_stroke_all_the_way_round_closes_and_is_thinned() -> None:
    tool, radius = Outline(), 80.0
    circle = [
        (radius * math.cos(angle), radius * math.sin(angle)) for angle in np.linspace(0.0, 2 * math.pi, 400)
    ]
    tool.press(over(*circle[0]))
    for place in circle[1:]:
        tool.move(over(*place))
    done = tool.release(over(*circle[-1]))
    assert done is not None
    assert done.kind == "done"
    assert 8 < len(done.value.corners) < 120
    # A pixel off at most all round: pi r^2 within 2 pi r times a pixel.
    assert on_the_floor(done.value).area == pytest.approx(math.pi * radius**2, abs=2 * math.pi * radius)


def test_a_stroke_that_does_not_come_back_stays_open() -> None:
    tool = Outline()
    tool.press(over(0.0, 0.0))
    for x in range(1, 50):
        tool.move(over(4.0 * x, 0.0))
    tool.move(over(196.0, 80.0))
    proposal = tool.release(over(196.0, 80.0))
    assert proposal is not None
    assert proposal.kind == "preview"
    assert not proposal.value.closed
    assert len(proposal.value.corners) == 3, "two straight sides"


def test_the_bare_mouse_shows_the_next_side() -> None:
    tool = Outline()
    click(tool, 0.0, 0.0)
    shown = tool.move(over(50.0, 10.0, held=False))
    assert shown is not None
    assert len(shown.value.corners) == 2
    again = tool.move(over(60.0, 10.0, held=False))
    assert again is not None
    assert len(again.value.corners) == 2, "only shown, not set"


def test_from_another_side_it_begins_again() -> None:
    tool = Outline()
    for corner in SQUARE[:3]:
        click(tool, *corner)
    tool.press(over(0.0, 10.0, forward=(1.0, 0.0, 0.0)))
    proposal = tool.release(over(0.0, 10.0, forward=(1.0, 0.0, 0.0)))
    assert proposal is not None
    assert len(proposal.value.corners) == 1


@pytest.mark.parametrize(
    "forward", [DOWN, (0.0, 0.0, 1.0), (1.0, 0.0, 0.0), (0.6, 0.0, -0.8), (0.0, 1.0, 0.0)]
)
def test_the_frame_is_right_handed_and_looks_along_the_sight(forward: Vector) -> None:
    turn = frame_along(forward).matrix()[:3, :3]
    assert np.linalg.det(turn) == pytest.approx(1.0)
    assert turn[:, 2] == pytest.approx(forward)
