"""Setting a shifter's pivot, lever and angles by the knobs that were taped."""

from dataclasses import fields

from floorpan.edits.things import change
from floorpan.errors import BadValue
from floorpan.items import Shifter
from floorpan.items.gate_fit import fit_gate
from floorpan.layout import Layout


def gate_from_points(layout: Layout, id: str, *, pivot_held: bool = False) -> Layout:
    """The shifter with pivot, lever, lean, throw and planes as they fit its taped knobs best; the knobs stay.

    pivot_held : the pivot was measured and stays

    Raises NoSuchThing, and BadValue for what is no shifter and where the knobs do not tell the gate.
    """
    shifter = layout.thing(id)
    if not isinstance(shifter, Shifter):
        raise BadValue("no-shifter", f"{shifter.name} has no gate.", "Choose a shifter.")
    fitted = fit_gate(shifter, pivot_held=pivot_held).shifter
    changed = {
        field.name: getattr(fitted, field.name)
        for field in fields(Shifter)
        if getattr(fitted, field.name) != getattr(shifter, field.name)
    }
    return change(layout, id, **changed)
