"""What the builder places: one dataclass, its state axes, its grips and its envelope a file."""

from floorpan.items.armrest import Armrest
from floorpan.items.buckle import Buckle
from floorpan.items.control import Control
from floorpan.items.cup_holder import CupHolder
from floorpan.items.dash_edge import DashEdge
from floorpan.items.door import Door
from floorpan.items.flap import Flap
from floorpan.items.handbrake import Handbrake
from floorpan.items.keep_out import KeepOut
from floorpan.items.knob_point import KnobPoint
from floorpan.items.lever import NEUTRAL, REVERSE
from floorpan.items.mesh_part import MeshPart
from floorpan.items.opening import opening_gap
from floorpan.items.placing import ORIGIN, Grip, ItemKind, Part, Place, StateAxis
from floorpan.items.seat import Seat, h_point, torso_line
from floorpan.items.shifter_fields import Shifter
from floorpan.items.shifter_gate import GatePlace, gate_table, lever_readout
from floorpan.items.vessel_library import library, vessel_of
from floorpan.items.vessels import Vessel
from floorpan.items.well_fit import WellFit, vessel_in, vessel_place, well_fit
from floorpan.items.wheel import Wheel

__all__ = [
    "NEUTRAL",
    "ORIGIN",
    "REVERSE",
    "Armrest",
    "Buckle",
    "Control",
    "CupHolder",
    "DashEdge",
    "Door",
    "Flap",
    "GatePlace",
    "Grip",
    "Handbrake",
    "ItemKind",
    "KeepOut",
    "KnobPoint",
    "MeshPart",
    "Part",
    "Place",
    "Seat",
    "Shifter",
    "StateAxis",
    "Vessel",
    "WellFit",
    "Wheel",
    "gate_table",
    "h_point",
    "lever_readout",
    "library",
    "opening_gap",
    "torso_line",
    "vessel_in",
    "vessel_of",
    "vessel_place",
    "well_fit",
]
