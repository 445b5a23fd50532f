"""What somebody typed into a number field, and what the layout holds: the first stays until it is put right."""

from collections.abc import Iterable

from floorpan_app.widgets.length_field import LengthField


def show_held(field: LengthField, held: float) -> None:
    """Show what the layout holds, unless the very same stands behind something that is being typed or is wrong."""
    edit = field.line_edit()
    being_typed = field.fault() or (edit.hasFocus() and edit.isModified())
    if not being_typed or field.value_mm() != held:
        field.set_value_mm(held)


def put_back(field: LengthField, held: float, fault: str) -> None:
    """A value was refused: the field holds the one before, its text stays, and what is wrong is said."""
    text = field.line_edit().text()
    field.set_value_mm(held)
    field.line_edit().setText(text)
    field.set_fault(fault)


def start_again(fields: Iterable[LengthField]) -> None:
    """The fields are about to speak of something else: what was typed for the one before is gone."""
    for field in fields:
        field.set_value_mm(field.value_mm())


def first_fault(fields: Iterable[LengthField]) -> str:
    """What is wrong with the first field that has a fault, for a line that several share; "" where none has."""
    return next((field.fault() for field in fields if field.fault()), "")
