"""What a body stands on, and how far it went, without a turn, since it stood elsewhere."""

import dataclasses
import functools
import math
from collections.abc import Callable, Hashable
from dataclasses import dataclass, field
from typing import Any, cast
from weakref import WeakKeyDictionary

from floorpan.items import Place
from floorpan.items.placing import Placed
from floorpan.layout import Layout


@dataclass(frozen=True, slots=True, eq=False, weakref_slot=True)
class Footing:
    """What a body follows from, compared by identity.

    carried : the body goes, without a turn, exactly where the one of these goes that has a place; else anything
              else than the very same says nothing of where it went
    anywhere: what is asked of it is the same wherever that stands, as long as it is not turned
    in_scene: the footing of the same body in another scene; None for what is the same in every scene
    """

    made_from: tuple[object, ...]
    carried: bool
    anywhere: bool = False
    in_scene: "Callable[[Any], Footing] | None" = None
    _told: "WeakKeyDictionary[Footing, float]" = field(default_factory=WeakKeyDictionary)

    def again(self, scene: Any) -> "Footing":
        """What the same body follows from in another scene, in which things were only shifted."""
        return self if self.in_scene is None else self.in_scene(scene)

    def gone_mm(self, before: "Footing") -> float:
        """No point of the body went farther since [mm]; infinite where that cannot be told."""
        if before is self:
            return 0.0
        # Every pair that a body is in asks the same.
        gone = self._told.get(before)
        if gone is None:
            gone = self._told[before] = self._went_mm(before)
        return gone

    def _went_mm(self, before: "Footing") -> float:
        if len(self.made_from) != len(before.made_from):
            return math.inf
        most = 0.0
        for then, now in zip(before.made_from, self.made_from, strict=True):
            if then is not now:
                if not self.carried:
                    return math.inf
                gone = shifted_mm(then, now)
                most = max(most, 0.0 if self.anywhere and gone < math.inf else gone)
        return most


# Every part of a thing, and the hand on it, ask the same one after another.
_last: list[tuple[object, object, float]] = [(None, None, 0.0)]


def shifted_mm(then: object, now: object) -> float:
    """How far a placed thing was shifted [mm]; infinite where anything else of it changed."""
    one, other, gone = _last[0]
    if one is not then or other is not now:
        gone = _shifted_mm(then, now)
        _last[0] = then, now, gone
    return gone


def _shifted_mm(then: object, now: object) -> float:
    names = _names(cast(Hashable, type(now)))
    if type(then) is not type(now) or "place" not in names:
        return math.inf
    for name in names:
        a, b = getattr(then, name), getattr(now, name)
        if a is not b and name != "place" and a != b:
            return math.inf
    old, new = cast(Placed, then).place, cast(Placed, now).place
    if any(getattr(old, name) != getattr(new, name) for name in _names(Place) if name not in _WHERE):
        return math.inf
    return math.dist((old.x_mm, old.y_mm, old.z_mm), (new.x_mm, new.y_mm, new.z_mm))


def only_shifted(before: Layout, after: Layout) -> bool:
    """Whether nothing but where placed things stand differs between two layouts, and none of them was turned."""
    for name in _names(Layout):
        then, now = getattr(before, name), getattr(after, name)
        if name in _PLACED:
            if len(then) != len(now):
                return False
            pairs = zip(then, now, strict=True)
            if then is not now and any(a is not b and shifted_mm(a, b) == math.inf for a, b in pairs):
                return False
        elif then is not now and then != now:
            return False
    return True


NO_FOOTING = Footing((), False)
"""Of what stays where it is: an area of the scan."""

_WHERE = frozenset({"x_mm", "y_mm", "z_mm"})
_PLACED = frozenset({"seats", "items", "consoles"})


@functools.cache
def _names(kind: Hashable) -> tuple[str, ...]:
    assert isinstance(kind, type)
    return tuple(one.name for one in dataclasses.fields(kind)) if dataclasses.is_dataclass(kind) else ()
