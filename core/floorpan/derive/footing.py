"""What a body stands on, and how far it went, without a turn, since it stood elsewhere."""

import dataclasses
import functools
import math
from collections.abc import Hashable
from dataclasses import dataclass, field
from typing import cast
from weakref import WeakKeyDictionary

from floorpan.items import Place
from floorpan.items.placing import Placed


@dataclass(frozen=True, slots=True, eq=False, weakref_slot=True)
class Footing:
    """What a body follows from, compared by identity.

    carried : the body goes, without a turn, exactly where the one of these goes that has a place; else anything
              else than the very same says nothing of where it went
    anywhere: what is asked of it is the same wherever that stands, as long as it is not turned
    """

    made_from: tuple[object, ...]
    carried: bool
    anywhere: bool = False
    _told: "WeakKeyDictionary[Footing, float]" = field(default_factory=WeakKeyDictionary)

    def gone_mm(self, before: "Footing") -> float:
        """No point of the body went farther since [mm]; infinite where that cannot be told."""
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


def shifted_mm(then: object, now: object) -> float:
    """How far a placed thing was shifted [mm]; infinite where anything else of it changed."""
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


_WHERE = frozenset({"x_mm", "y_mm", "z_mm"})


@functools.cache
def _names(kind: Hashable) -> tuple[str, ...]:
    assert isinstance(kind, type)
    return tuple(one.name for one in dataclasses.fields(kind)) if dataclasses.is_dataclass(kind) else ()
