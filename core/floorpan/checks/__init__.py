"""Judges: each looks at a scene and says what clears, what is close and what hits. They never propose."""

from floorpan.checks.evaluate import Evaluator, evaluate
from floorpan.checks.finding import Cure, Doubt, Finding, Verdict

__all__ = ["Cure", "Doubt", "Evaluator", "Finding", "Verdict", "evaluate"]
