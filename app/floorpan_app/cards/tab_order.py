"""The Tab key goes through a card as the eye does, whenever its fields were made."""

from collections.abc import Iterator
from itertools import pairwise

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QLayout, QScrollArea, QWidget


def order_tabs(card: QWidget) -> None:
    """Let the Tab key follow the layout; where the card itself stands in the order of its window stays as it is."""
    stops = [
        one
        for one in _in_layout(card)
        if one.focusPolicy() != Qt.FocusPolicy.NoFocus and not one.focusProxy()
    ]
    for before, after in pairwise(stops):
        QWidget.setTabOrder(before, after)


def _in_layout(widget: QWidget) -> Iterator[QWidget]:
    """Everything inside, in the order it is laid out."""
    if isinstance(widget, QScrollArea):
        inside = widget.widget()
        if inside is not None:
            yield from _in_layout(inside)
        return
    layout = widget.layout()
    if layout is not None:
        yield from _items(layout)
    elif widget.focusPolicy() == Qt.FocusPolicy.NoFocus:
        # A painted piece lays its own children out.
        yield from (child for child in widget.children() if isinstance(child, QWidget))


def _items(layout: QLayout) -> Iterator[QWidget]:
    for place in range(layout.count()):
        item = layout.itemAt(place)
        inner = item.layout() if item is not None else None
        widget = item.widget() if item is not None else None
        if widget is not None:
            yield widget
            yield from _in_layout(widget)
        elif inner is not None:
            yield from _items(inner)
