"""Shifting a thing changes no check's pairs, unless the check says so: then a drag need not ask for them again."""

from collections.abc import Iterator

from core.checks.test_mesh_parts import CONSOLE, part_of
from core.small_case import level_floor, raw_scan, small_layout
from floorpan import edits
from floorpan.checks.catalogue import CHECKS
from floorpan.checks.check import LIVE, Group, Item
from floorpan.derive import Bench, Scene, only_shifted
from floorpan.derive.arm_footing import ArmsFooting
from floorpan.items import (
    Armrest,
    Buckle,
    Control,
    DashEdge,
    Door,
    Flap,
    Handbrake,
    KeepOut,
    Place,
    Seat,
    Shifter,
    Vessel,
    Wheel,
)
from floorpan.layout import Layout
from floorpan.progress import finish

FLOOR = raw_scan(level_floor())
STORE = {one.sha256: one for one in (FLOOR, CONSOLE)}
WAYS = ((31.0, -17.0, 9.0), (-140.0, 60.0, 120.0), (900.0, 0.0, 0.0))


def furnished() -> Layout:
    """One of everything, and a part from a mesh file of each way to move."""
    layout = edits.move(small_layout(FLOOR), "shifter-1", x_mm=100.0, y_mm=-100.0, z_mm=200.0)
    for thing in (
        Seat(
            id="new", place=Place(x_mm=420.0, y_mm=400.0, z_mm=260.0), stand_mm=260.0, recline_more_deg=10.0
        ),
        Handbrake(id="new", place=Place(x_mm=500.0, y_mm=-60.0)),
        Buckle(id="new", seat_id="seat-1", place=Place(x_mm=450.0, y_mm=-150.0, z_mm=60.0)),
        Armrest(id="new", place=Place(x_mm=330.0, y_mm=-50.0)),
        KeepOut(id="new", what_for="pipe", place=Place(x_mm=50.0)),
        Wheel(id="new", place=Place(x_mm=-100.0, y_mm=-400.0, z_mm=500.0)),
        Flap(id="new", place=Place(x_mm=-200.0, z_mm=300.0)),
        DashEdge(id="new", place=Place(x_mm=-200.0, z_mm=450.0)),
        Door(id="new", place=Place(x_mm=100.0, y_mm=-650.0, z_mm=200.0)),
        Control(id="new", place=Place(x_mm=0.0, z_mm=120.0)),
        part_of(CONSOLE, counts_as="console shell"),
        part_of(CONSOLE, counts_as="dash or trim", motion="slides"),
        part_of(CONSOLE, counts_as="vessel", motion="swings"),
    ):
        layout, _ = edits.add(layout, thing)
    return layout


LAYOUT = furnished()


def asked(scene: Scene) -> dict[str, tuple[Item, ...]]:
    return {check.name: tuple(check.reads(scene)) for check in CHECKS if check.tier in LIVE}


def shape(items: tuple[Item, ...]) -> list[tuple[object, ...]]:
    """Who is judged in which states; an arm comes within reach and out of it."""
    return [
        (one.subjects, () if isinstance(one.mover, ArmsFooting) else tuple(r.state for r in one.readings))
        for one in items
        if isinstance(one, Group)
    ]


def shifted() -> Iterator[tuple[str, Layout]]:
    for thing in (one for one in LAYOUT.things() if not (isinstance(one, Vessel) and one.stands_in)):
        for way in WAYS:
            yield thing.id, edits.shift(LAYOUT, thing.id, way)


def test_a_shifted_thing_is_judged_against_the_same_things_in_the_same_states() -> None:
    bench = Bench(STORE)
    finish(bench.make_floors(LAYOUT))
    before = asked(bench.scene(LAYOUT))
    paired = {name for name, items in before.items() if all(isinstance(one, Group) for one in items)}
    fixed = [check for check in CHECKS if check.name in paired and not check.by_place]
    assert len(fixed) > 100
    assert sum(len(before[check.name]) for check in fixed) > 120
    for id, layout in shifted():
        assert only_shifted(LAYOUT, layout)
        now = asked(bench.scene(layout))
        for check in fixed:
            assert all(isinstance(one, Group) for one in now[check.name]), (check.name, id)
            assert shape(now[check.name]) == shape(before[check.name]), (check.name, id)


def test_anything_but_a_shift_has_everything_asked_for_again() -> None:
    assert only_shifted(LAYOUT, LAYOUT)
    assert not only_shifted(LAYOUT, edits.turn(LAYOUT, "seat-1", 3.0))
    assert not only_shifted(LAYOUT, edits.change(LAYOUT, "shifter-1", lever_mm=210.0))
    assert not only_shifted(LAYOUT, edits.remove(LAYOUT, "flap-1"))
    assert not only_shifted(LAYOUT, edits.set_carpet(LAYOUT, 3.0))
    assert not only_shifted(LAYOUT, edits.change_person(LAYOUT, "driver-1", notches_used=(2, 5)))
    shifter = LAYOUT.thing("shifter-1")
    assert isinstance(shifter, Shifter)
    assert only_shifted(LAYOUT, edits.move(LAYOUT, "shifter-1", x_mm=shifter.place.x_mm + 1.0))
