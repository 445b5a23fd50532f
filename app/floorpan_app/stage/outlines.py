"""Outlines of what is not drawn solid: torso and head, and what the tight spot needs but is not in the picture."""

import numpy as np

from floorpan.checks import Finding
from floorpan.derive import Scene, elbow_in
from floorpan.derive.arms import LIMBS
from floorpan.geometry.solids import Body
from floorpan.items.states import State
from floorpan_app.stage.contents import Contents
from floorpan_app.stage.figures import Figure
from floorpan_app.stage.stand_in import StandIn
from floorpan_app.standing import standing
from floorpan_app.viewport.marks import Ghost, Path, Stroke

_SAME_MM = 0.01


class Outlines:
    """Makes ghosts; the same body gets the very same one again, so that its outline is worked out once."""

    def __init__(self) -> None:
        self._made: dict[tuple[int, str], Ghost] = {}
        self._used: dict[tuple[int, str], Ghost] = {}

    def begin(self) -> None:
        """What is not asked for until the next time is let go."""
        self._made, self._used = self._used, {}

    def of(self, body: Body, role: str = "accent", stroke: Stroke = "dashed") -> Ghost:
        """The outline of a body."""
        key = (id(body), role)
        ghost = self._used.get(key) or self._made.get(key)
        if ghost is None or ghost.body is not body:
            ghost = Ghost(body=body, role=role, stroke=stroke)
        self._used[key] = ghost
        return ghost


def sight_line(driver: StandIn) -> Path:
    """From the eyes straight ahead."""
    return Path(points_mm=np.array(driver.sight), role="ink2", stroke="dashed", width_px=1.2)


def absent_bodies(finding: Finding, scene: Scene, shown: State, contents: Contents) -> tuple[Body, ...]:
    """The bodies a finding is about that are hidden, or that the picture shows at another stop."""
    state = standing(scene.layout, tuple({**dict(shown), **_ends(finding.state)}.items()))
    found: list[Body] = []
    held = contents.held()
    for subject in finding.subjects:
        figures = [figure for name, figure in held.items() if _is_of(name, subject)]
        if not figures:
            continue
        if any(contents.is_hidden(figure.name) for figure in figures) or _stands_elsewhere(
            figures, scene, state
        ):
            found += [body for body in (_body(subject, scene, state),) if body is not None]
    return tuple(found)


def _body(name: str, scene: Scene, state: State) -> Body | None:
    """What a name stands for in a state; None for an arm that does not reach so far."""
    owner, _, part = name.partition(".")
    if part not in LIMBS:
        return scene.body(name, state)
    for person, shifter in scene.hands():
        seat = scene.seat_of(person)
        if person.id == owner and seat is not None:
            held = elbow_in(scene, person, seat, shifter, state)
            return LIMBS[part](held.posed, person.jacket_mm) if held is not None else None
    return None


def _ends(state: State) -> dict[str, str]:
    """A leg ends at its far stop, as it is shown where a finding is chosen."""
    return {axis: stop.rpartition("-")[2] for axis, stop in state}


def _is_of(name: str, subject: str) -> bool:
    return name == subject or name.startswith(f"{subject}.")


def _stands_elsewhere(figures: list[Figure], scene: Scene, state: State) -> bool:
    return any(not _stands_so(figure, _body(figure.name, scene, state)) for figure in figures)


def _stands_so(figure: Figure, body: Body | None) -> bool:
    """Whether a figure shows that very body; a limb is made anew each time and told by where it is."""
    if body is None or figure.body is body:
        return True
    if figure.name.partition(".")[2] not in LIMBS or len(body) != len(figure.body):
        return False
    return all(
        np.allclose(one.box(), other.box(), atol=_SAME_MM)
        for one, other in zip(body, figure.body, strict=True)
    )
