"""The carpet map: layers with their thickness loose and squeezed, area by area, and the surfaces they make."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Annotated

import numpy as np
from numpy.typing import NDArray

from floorpan.errors import BadValue
from floorpan.fields import Choice, Range, Text, check_fields
from floorpan.geometry.heights import HeightGrid
from floorpan.geometry.mesh import Floats, Mesh
from floorpan.geometry.offset import up_mm
from floorpan.geometry.offset_heights import offset_heights, sheet_of
from floorpan.progress import Work, part

LAYER_KINDS = ("deadening", "insulator", "carpet")
SLOPES_DEG = (0.0, 30.0, 45.0, 60.0, 70.0)


@dataclass(frozen=True, slots=True, kw_only=True)
class Layer:
    """One layer on the floor, lowest first in a carpet. Raises BadValue where it is thicker squeezed than loose.

    squeezed_mm : under a bolted foot; no open source gives it for a material: measured, or common practice
    """

    kind: Annotated[str, Choice(LAYER_KINDS, "Layer")] = "carpet"
    loose_mm: Annotated[float, Range(0.0, 40.0, "mm", "Loose", "as it lies, not trodden on")]
    squeezed_mm: Annotated[float, Range(0.0, 40.0, "mm", "Squeezed", "under a bolted foot")]
    note: Annotated[str, Text(120, "Note")] = ""

    def __post_init__(self) -> None:
        check_fields(self)
        if self.squeezed_mm > self.loose_mm:
            raise BadValue(
                "thicker-squeezed",
                f"The {self.kind} is {self.loose_mm:g} mm loose; squeezed it cannot be {self.squeezed_mm:g}.",
                "Type a squeezed thickness no greater than the loose one.",
                loose_mm=self.loose_mm,
                squeezed_mm=self.squeezed_mm,
            )


@dataclass(frozen=True, slots=True, kw_only=True)
class Carpet:
    """Everything that lies on one part of the floor; no layers for bare metal."""

    layers: tuple[Layer, ...] = ()

    @property
    def loose_mm(self) -> float:
        """All layers as they lie [mm]."""
        return float(sum(layer.loose_mm for layer in self.layers))

    @property
    def squeezed_mm(self) -> float:
        """All layers under a bolted foot [mm]."""
        return float(sum(layer.squeezed_mm for layer in self.layers))


BARE = Carpet()
# What is left of a carpet under a bolted foot where nobody told; common practice, no source.
SQUEEZED_SHARE = 1.0 / 3.0
# Common practice, no source: 12 mm where nothing is known, a third of it left under a bolted foot.
USUAL = Carpet(layers=(Layer(loose_mm=12.0, squeezed_mm=4.0, note="carpet and underlay together"),))


@dataclass(frozen=True, slots=True, kw_only=True)
class CarpetOn:
    """What lies on one named area: its own carpet, BARE for none."""

    area: str
    carpet: Carpet


@dataclass(frozen=True, slots=True, kw_only=True)
class CarpetMap:
    """A carpet for each area that has its own, and one for all the rest. Raises BadValue for an area given twice."""

    rest: Carpet = USUAL
    on: tuple[CarpetOn, ...] = ()

    def __post_init__(self) -> None:
        if len({one.area for one in self.on}) < len(self.on):
            raise BadValue("carpet-twice", "An area has two carpets.", "Keep one of them on the Floor card.")

    def of(self, area: str) -> Carpet:
        """What lies on the area of that id."""
        return next((one.carpet for one in self.on if one.area == area), self.rest)


@dataclass(frozen=True, slots=True, eq=False)
class CarpetSurfaces:
    """Bare floor, floor with loose carpet, and with squeezed carpet, as height fields over the same columns [mm].

    Exact in every column, joined straight between columns. For pictures, sections and cut lines; gaps are worked
    out by number from the bare floor.
    """

    bare: HeightGrid
    loose: HeightGrid
    squeezed: HeightGrid

    def sheets(self) -> tuple[Mesh, Mesh, Mesh]:
        """The three as meshes facing up."""
        return sheet_of(self.bare), sheet_of(self.loose), sheet_of(self.squeezed)


def face_thickness(owner: NDArray[np.signedinteger], carpets: Sequence[Carpet], rest: Carpet) -> Floats:
    """Loose and squeezed thickness (M, 2) [mm] of faces by the area each belongs to (M,), -1 for `rest`."""
    table = np.array([(one.loose_mm, one.squeezed_mm) for one in (*carpets, rest)], dtype=np.float64)
    thickness: Floats = table[owner]
    return thickness


def carpet_surfaces(
    mesh: Mesh, thickness_mm: Floats, low_mm: Floats, high_mm: Floats, cell_mm: float
) -> Work[CarpetSurfaces]:
    """The three surfaces of a floor whose Z is up, between two xy corners (2,), a column every cell_mm [mm].

    thickness_mm : (M, 2) loose and squeezed on each face, square to it, as `face_thickness` gives it
    """
    loose = yield from part(offset_heights(mesh, thickness_mm[:, 0], low_mm, high_mm, cell_mm), 0.0, 0.5)
    squeezed = yield from part(offset_heights(mesh, thickness_mm[:, 1], low_mm, high_mm, cell_mm), 0.5, 1.0)
    return CarpetSurfaces(HeightGrid.over(mesh, low_mm, high_mm, cell_mm), loose, squeezed)


def down_panel(thick_mm: float) -> tuple[tuple[float, float], ...]:
    """What a carpet takes up measured down an upright panel: (slope of the floor [deg], thickness [mm])."""
    return tuple((slope, up_mm(thick_mm, slope)) for slope in SLOPES_DEG)
