"""Ids of what is put into a layout."""

from dataclasses import replace

from floorpan.layout import Layout


def new_id(layout: Layout, kind: str) -> tuple[Layout, str]:
    """A fresh `kind-n`, never used before in this layout, and the layout that remembers it."""
    numbers = dict(layout.last_number)
    numbers[kind] = numbers.get(kind, 0) + 1
    return replace(layout, last_number=tuple(sorted(numbers.items()))), f"{kind}-{numbers[kind]}"
