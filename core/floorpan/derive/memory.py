"""Answers remembered by the identity of what they were made from."""

import threading
from collections import OrderedDict
from collections.abc import Callable, Hashable
from typing import TypeVar, cast

T = TypeVar("T")

_KEPT = 16384


class Memory:
    """A bounded table of answers; the longest unused go first."""

    def __init__(self, most: int = _KEPT) -> None:
        self._held: OrderedDict[Hashable, tuple[tuple[object, ...], object]] = OrderedDict()
        self._most = most
        # A floor is made in a worker while the window asks for bodies.
        self._lock = threading.Lock()

    def get(self, name: Hashable, made_from: tuple[object, ...], make: Callable[[], T]) -> T:
        """The remembered answer for these very values, or a fresh one.

        name      : what is asked, hashable
        made_from : values compared by identity; they are held on to, so an identity is never used twice
        """
        key = (name, tuple(id(one) for one in made_from))
        with self._lock:
            found = self._held.get(key)
            if found is not None:
                self._held.move_to_end(key)
                return cast(T, found[1])
        answer = make()
        with self._lock:
            self._held[key] = (made_from, answer)
            if len(self._held) > self._most:
                self._held.popitem(last=False)
        return answer

    def holds(self, name: Hashable, made_from: tuple[object, ...]) -> bool:
        """Whether `get` would answer at once."""
        return (name, tuple(id(one) for one in made_from)) in self._held
