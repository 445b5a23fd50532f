"""Bodies in the picture, kept equal to what is wanted; only what changed is touched."""

from collections.abc import Callable, Iterable
from typing import Final

from floorpan_app.stage.figures import Figure
from floorpan_app.viewport.scene import Scene

_NEARLY_SOLID: Final = 0.75


class Contents:
    """The figures of a scene, by name."""

    def __init__(self, scene: Scene) -> None:
        self._scene = scene
        self._held: dict[str, Figure] = {}
        self._hidden: set[str] = set()

    def show(self, figures: Iterable[Figure], is_on: Callable[[str], bool]) -> None:
        """Hold these figures and no others; those of a group that is off stay, unseen."""
        left = set(self._held)
        for figure in figures:
            left.discard(figure.name)
            self._hold(figure, is_on(figure.group))
        for name in left:
            del self._held[name]
            self._hidden.discard(name)
            self._scene.remove(name)

    def names_of(self, owner: str) -> frozenset[str]:
        """The names of a thing's or person's figures."""
        return frozenset(name for name, figure in self._held.items() if figure.owner == owner)

    def owner_of(self, name: str) -> str:
        """Whose figure a name is; empty for what is none of them."""
        figure = self._held.get(name)
        return figure.owner if figure is not None else ""

    def held(self) -> dict[str, Figure]:
        """Every figure by its name."""
        return dict(self._held)

    def is_see_through(self, name: str) -> bool:
        """Whether one looks through a figure at what stands in it."""
        figure = self._held.get(name)
        return figure is not None and figure.manner.opacity < _NEARLY_SOLID

    def see_through(self) -> frozenset[str]:
        """The names of all one looks through."""
        return frozenset(name for name in self._held if self.is_see_through(name))

    def rooms(self) -> list[tuple[float, float, float, float]]:
        """What each thing covers seen from above: least and greatest x, least and greatest y [mm]."""
        found = []
        for figure in self._held.values():
            for solid in figure.body:
                low, high = solid.box()
                around = solid.hull.radius_mm
                found.append((low[0] - around, high[0] + around, low[1] - around, high[1] + around))
        return [(float(a), float(b), float(c), float(d)) for a, b, c, d in found]

    def is_hidden(self, name: str) -> bool:
        """Whether a figure is there but not seen."""
        return name in self._hidden

    def _hold(self, figure: Figure, shown: bool) -> None:
        before = self._held.get(figure.name)
        if before is None or before.body is not figure.body or before.manner != figure.manner:
            self._scene.show_body(figure.name, figure.body, figure.manner)
            self._held[figure.name] = figure
            if figure.name in self._hidden:
                # A figure of other make comes anew, and is seen.
                self._scene.set_shown(figure.name, False)
        if shown == (figure.name in self._hidden):
            self._scene.set_shown(figure.name, shown)
            (self._hidden.discard if shown else self._hidden.add)(figure.name)
