"""The stage: turns layout, findings, shown state and selection into the picture, and the hand in it into edits."""

from floorpan_app.stage.stage import Stage
from floorpan_app.stage.verbs import verbs_for

__all__ = ["Stage", "verbs_for"]
