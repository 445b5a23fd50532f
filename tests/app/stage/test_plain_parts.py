"""The stage's parts that need no window: new things, places in words, tool rolls, outlines, the driver's bodies."""

from dataclasses import replace

import numpy as np
import pytest

from app.stage.conftest import RAW
from core.small_case import small_layout
from floorpan import edits
from floorpan.derive import Bench
from floorpan.geometry.solids import Solid, capsule
from floorpan.items import Control, CupHolder, Seat, Vessel, h_point
from floorpan.layout import STEPS, Layout
from floorpan_app.stage.ground_meshes import wanted
from floorpan_app.stage.groups import Showing
from floorpan_app.stage.new_things import KINDS, new_thing
from floorpan_app.stage.outlines import Outlines
from floorpan_app.stage.places import shifted_words, step_words
from floorpan_app.stage.stand_in import _held, stand_in
from floorpan_app.stage.verbs import PLACE, placed_in, verbs_for
from floorpan_app.standing import standing
from floorpan_app.theme.icons import icon_names

LAYOUT = small_layout(RAW)


def test_every_kind_can_be_set_down_and_carries_a_name_of_its_own() -> None:
    layout = Layout()
    for kind in KINDS * 3:
        layout, _ = edits.add(layout, new_thing(kind, layout, (100.0, 20.0, 30.0), None))
    names = [thing.name for thing in layout.things()]
    assert len(set(names)) == len(names) == 3 * len(KINDS)
    assert {"Shifter", "Shifter 2", "Shifter 3", "Passenger's seat 2"} <= set(names)


def test_a_new_thing_stands_on_what_was_clicked() -> None:
    seat = new_thing("seat", LAYOUT, (100.0, -300.0, 40.0), None)
    assert isinstance(seat, Seat)
    assert (seat.name, seat.for_whom, seat.place.z_mm) == ("Driver's seat", "driver", 40.0 + seat.stand_mm)
    right = edits.set_driver_side(LAYOUT, "right")
    assert new_thing("seat", right, (0.0, -300.0, 0.0), None).name == "Passenger's seat"
    console = LAYOUT.consoles[0]
    let_in = new_thing("cup holder", LAYOUT, (50.0, 0.0, 100.0), console)
    assert isinstance(let_in, CupHolder)
    assert (let_in.stands_on, let_in.place.z_mm + let_in.depth_mm) == ("console", 100.0)
    on_floor = new_thing("cup holder", LAYOUT, (50.0, 0.0, 0.0), None)
    assert on_floor.place.z_mm == pytest.approx(3.0)
    vessel = new_thing("vessel", LAYOUT, (0.0, 0.0, 0.0), LAYOUT.thing("cup-holder-1"))
    assert isinstance(vessel, Vessel)
    assert vessel.stands_in == "cup-holder-1"
    for on, stands_on in ((console, "console"), (None, "none")):
        switch = new_thing("switch", LAYOUT, (50.0, 0.0, 100.0), on)
        assert isinstance(switch, Control)
        assert (switch.stands_on, switch.place.z_mm) == (stands_on, 100.0)
    # A console is clicked in its middle.
    shell = new_thing("console", LAYOUT, (300.0, 10.0, 5.0), None)
    ends = [shell.place.x_mm + station.x_mm for station in shell.stations]  # type: ignore[union-attr]
    assert (ends[0] + ends[-1]) / 2 == pytest.approx(300.0)


def test_steps_in_words_name_the_side_the_driver_sits_on() -> None:
    assert shifted_words((28.0, 3.0, 0.0), LAYOUT, "mm") == "28 rearward of where it stood"
    assert shifted_words((0.0, -3.0, 1.0), LAYOUT, "mm") == "3 to the driver side of where it stood"
    assert shifted_words((0.01, 0.0, -0.02), LAYOUT, "mm") == ""
    right = edits.set_driver_side(LAYOUT, "right")
    assert shifted_words((0.0, -3.0, 1.0), right, "mm") == "3 to the passenger side of where it stood"
    assert step_words((-10.0, 25.4, 0.0), LAYOUT, "mm", in_car_axes=True) == (
        "10 forward, 25.4 to the passenger side, 0 up"
    )
    told = step_words((-10.0, 25.4, 0.0), LAYOUT, "mm", in_car_axes=False)
    assert told == "10, 25.4, 0"


def test_every_step_has_its_roll_with_icons_that_are_there() -> None:
    for step in STEPS:
        for verb in verbs_for(step):
            assert verb.icon in icon_names(), verb
        tool = placed_in(step)
        assert tool == "" or tool.removeprefix(PLACE) in KINDS
    assert {placed_in(step) for step in ("driver", "controls", "cup", "console")} == {
        "place seat",
        "place shifter",
        "place cup holder",
        "place console",
    }
    assert placed_in("report") == ""


def test_words_name_only_what_is_there() -> None:
    showing = Showing()
    bare = replace(LAYOUT, seats=(), items=(), consoles=(), people=())
    assert [word.id for word in showing.words("controls", bare)] == ["scan", "unseen", "gaps"]
    assert [word.id for word in showing.words("scan", bare)] == ["scan", "unseen"]
    assert "placed" in [word.id for word in showing.words("scan", LAYOUT)]
    showing.show("driver", False)
    for step in ("controls", "cup", "check"):
        words = {word.id: word.on for word in showing.words(step, LAYOUT)}  # type: ignore[arg-type]
        assert words["driver"] is False
        assert words["seats"] is True


def test_what_is_drawn_of_a_scan_follows_only_from_what_changes_the_picture() -> None:
    bench = Bench({RAW.sha256: RAW})

    def asked(layout: Layout, *, bare: bool = False) -> object:
        return wanted(bench, layout, bare=bare, cropping=False)

    one = asked(LAYOUT)
    assert asked(edits.change_scan(LAYOUT, "scan-1", name="other", good_to_mm=3.0)) == one
    assert asked(edits.shift(LAYOUT, "shifter-1", (5.0, 0.0, 0.0))) == one
    assert asked(edits.change_scan(LAYOUT, "scan-1", flipped=True)) != one
    assert asked(edits.change_scan(LAYOUT, "scan-1", shown=False)) != one
    assert asked(LAYOUT, bare=True) != one
    assert wanted(Bench({}), LAYOUT, bare=False, cropping=False).scans == ()


def test_the_driver_sits_at_the_shown_notch_and_unchanged_bodies_are_the_very_same() -> None:
    scene = Bench({RAW.sha256: RAW}).scene(LAYOUT)
    state = standing(LAYOUT, ())
    first, again = (stand_in(scene, state, LAYOUT.driver()) for _ in range(2))
    assert first is not None
    assert again is not None
    assert first.outline is again.outline
    assert [body for _, body in first.arm] == [body for _, body in again.arm]
    forward = stand_in(scene, standing(LAYOUT, (("seat-1.notch", "12"),)), LAYOUT.driver())
    assert forward is not None
    seat = LAYOUT.seats[0]
    moved = np.subtract(h_point(seat, 12), h_point(seat, int(seat.notch_here)))
    for (_, here), (_, there) in zip(first.thighs, forward.thighs, strict=True):
        assert there[0].points() - here[0].points() == pytest.approx(np.tile(moved, (2, 1)), abs=2e-3)
    # The limbs only move: their hulls are the same ones.
    assert forward.thighs[0][1][0].hull is first.thighs[0][1][0].hull
    nobody = edits.remove(replace(LAYOUT, people=()), "seat-1")
    assert stand_in(Bench({RAW.sha256: RAW}).scene(nobody), standing(nobody, ()), None) is None


@pytest.mark.parametrize(
    ("start", "end"),
    [
        ((1.0, 2.0, 3.0), (40.0, -10.0, 99.0)),
        ((0.0, 0.0, 0.0), (0.0, 0.0, -80.0)),
        ((5.0, 5.0, 5.0), (5.0, 5.0, 85.0)),
        ((7.0, 8.0, 9.0), (7.0, 8.0, 9.0)),
    ],
)
def test_a_rod_that_keeps_its_hull_is_the_rod_it_was(
    start: tuple[float, float, float], end: tuple[float, float, float]
) -> None:
    rod = Solid(capsule(np.array(start), np.array(end), 12.0))
    (held,) = _held((rod,))
    assert held.points() == pytest.approx(rod.points(), abs=2e-3)
    assert held.hull.radius_mm == 12.0


def test_the_same_body_gets_the_same_outline_for_as_long_as_it_is_asked_for() -> None:
    outlines, body = Outlines(), (Solid(capsule(np.zeros(3), np.ones(3), 1.0)),)
    outlines.begin()
    ghost = outlines.of(body)
    outlines.begin()
    assert outlines.of(body) is ghost
    outlines.begin()
    outlines.begin()
    assert outlines.of(body) is not ghost
