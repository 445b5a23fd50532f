"""The Qt widget the drawing toolkit draws in, taken from its library without the plotter that stands beside it.

The library's own front door brings a whole plotter along, and charts with it: two of the seconds a builder waits
for the first picture, for nothing the bench uses.
"""

import sys
from importlib.util import find_spec, module_from_spec
from typing import Any


def _widget_alone() -> Any:
    """The widget's class, its package not run."""
    spec = find_spec("pyvistaqt")
    whole = "pyvistaqt" in sys.modules or spec is None
    if spec is not None and not whole:
        sys.modules["pyvistaqt"] = module_from_spec(spec)
    try:
        from pyvistaqt.rwi import QVTKRenderWindowInteractor

        return QVTKRenderWindowInteractor
    finally:
        # Whoever imports the package afterwards gets it whole.
        if not whole:
            del sys.modules["pyvistaqt"]


DrawingWidget: Any = _widget_alone()
