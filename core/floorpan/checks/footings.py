"""What somebody's shoulder, a placed thing, and what goes along with it, follow from."""

from floorpan.derive import Footing, Scene
from floorpan.driver import Person


def sitting(scene: Scene, person: Person, seat: str) -> Footing:
    """Of whoever sits in a seat; the very same in one scene."""

    def again(other: Scene) -> Footing:
        return sitting(other, person, seat)

    made_from = (person, scene.layout.thing(seat))
    return scene.memory.get("sitting", made_from, lambda: Footing(made_from, False, in_scene=again))


def standing(scene: Scene, id: str, *, anywhere: bool = False) -> Footing:
    """Of a placed thing by its own place, whatever it stands in; anywhere as in Footing."""

    def again(other: Scene) -> Footing:
        return standing(other, id, anywhere=anywhere)

    made_from = (scene.layout.thing(id),)
    return scene.memory.get(
        ("standing", anywhere), made_from, lambda: Footing(made_from, True, anywhere, in_scene=again)
    )
