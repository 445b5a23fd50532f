"""Everything placed, and the driver, as named bodies with a manner: what the picture should hold."""

from collections.abc import Collection, Iterator, Mapping
from dataclasses import dataclass
from typing import Final

from floorpan.console import Envelope
from floorpan.derive import Scene
from floorpan.geometry.solids import Body
from floorpan.items import Wheel
from floorpan.items.placing import Material
from floorpan.items.states import State
from floorpan.layout import Step, Thing, record_of
from floorpan_app.stage.groups import DRIVER, group_of
from floorpan_app.stage.stand_in import StandIn
from floorpan_app.stage.wheel import wheel_rim
from floorpan_app.theme.record import Things
from floorpan_app.viewport.thing import Manner
from floorpan_app.well_mates import left_out

_ROLES: Final[dict[Material, str]] = {
    "steel": "steel",
    "knob": "knob",
    "seat": "seat",
    "vessel": "vessel",
    "liner": "well",
    "console": "console",
    "driver": "driver",
}
# From its own step on the console is drawn as it will stand there.
_CONSOLE_SOLID: Final[tuple[Step, ...]] = ("console", "pieces", "check", "report")
_DRIVER_WHOLE: Final[tuple[Step, ...]] = ("scan", "axes", "floor", "driver")
WHEEL: Final = "wheel"
NOTHING_ON_ITS_WAY: Final[Mapping[str, Body]] = {}
# Torso and head are an outline: a shade of them, so that one sees which side of it is inside.
_SHADE: Final = Manner(role="driver", opacity=0.16, pickable=False)


@dataclass(frozen=True, slots=True, eq=False)
class Figure:
    """A named body in the picture. `owner` is the id of the thing or person it belongs to."""

    name: str
    owner: str
    group: str
    body: Body
    manner: Manner


@dataclass(frozen=True, slots=True)
class Looks:
    """How see-through things are: opacities of the theme, the step in hand, and whether one looks into the console."""

    things: Things
    step: Step
    into_console: bool

    def console(self) -> float:
        """The console's opacity."""
        solid = self.step in _CONSOLE_SOLID and not self.into_console
        return 1.0 if solid else self.things.console_opacity_before_its_step

    def manner(self, thing: Thing, material: Material) -> Manner:
        """How a part of a thing is drawn."""
        role = _ROLES[material]
        if isinstance(thing, Envelope):
            return Manner(role=role, opacity=self.console())
        return Manner(role=role, opacity=self.things.vessel_opacity if material == "vessel" else 1.0)

    def whole_driver(self) -> bool:
        """Whether all of the driver is drawn: where the hand goes only the arm matters."""
        return self.step in _DRIVER_WHOLE

    def driver(self) -> Manner:
        """How the driver's limbs are drawn: what lies behind them can be picked."""
        return Manner(role="driver", opacity=self.things.driver_opacity, pickable=False)


def figures(
    scene: Scene,
    state: State,
    driver: StandIn | None,
    looks: Looks,
    chosen: Collection[str] = (),
    on_way: Mapping[str, Body] = NOTHING_ON_ITS_WAY,
) -> Iterator[Figure]:
    """Every figure of a scene in a full state, in drawing order.

    chosen : ids of vessels that are drawn before others in their well
    on_way : vessels that are drawn elsewhere than they stand, by id, and the hands on them as `vessel-1.hand`
    """
    unseen = left_out(scene.layout, state, chosen)
    for thing in scene.layout.things():
        if thing.id in unseen:
            continue
        group = group_of(thing)
        for part in record_of(thing).parts(thing):
            name = f"{thing.id}.{part.name}"
            body = on_way.get(thing.id) or scene.body(name, state)
            if body:
                yield Figure(name, thing.id, group, body, looks.manner(thing, part.material))
    for name in (one for one in on_way if "." in one):
        yield Figure(name, name, DRIVER, on_way[name], looks.driver())
    if driver is not None:
        limbs = (*driver.arm, *driver.thighs) if looks.whole_driver() else driver.arm
        for name, body in limbs:
            yield Figure(name, driver.id, DRIVER, body, looks.driver())
        if looks.whole_driver():
            yield Figure(f"{driver.id}.torso", driver.id, DRIVER, driver.outline, _SHADE)
    # A wheel that was set down is drawn as a thing; both would stand in one another.
    rim = () if scene.layout.of(Wheel) else wheel_rim(scene.layout.driving_position)
    if rim and looks.whole_driver():
        yield Figure(WHEEL, WHEEL, DRIVER, rim, Manner(role="knob", pickable=False))


def names_of(id: str, scene: Scene) -> frozenset[str]:
    """The names a thing's parts have in the picture; none for what is no placed thing."""
    for thing in scene.layout.things():
        if thing.id == id:
            return frozenset(f"{id}.{part.name}" for part in record_of(thing).parts(thing))
    return frozenset()
