"""The open survey's rows, where the shared data lies beside the repository."""

import importlib.util
import sys
from pathlib import Path
from types import ModuleType

import numpy as np
import pytest

TOP = Path(__file__).resolve().parents[3]
Rows = dict[str, np.ndarray]


@pytest.fixture(scope="session")
def maker() -> ModuleType:
    """The script that computes the shipped figures."""
    spec = importlib.util.spec_from_file_location("make_bodies", TOP / "assets" / "make_bodies.py")
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    # Its dataclasses look their module up by name.
    sys.modules[spec.name] = module
    spec.loader.exec_module(module)
    return module


@pytest.fixture(scope="session")
def survey_file(shared_data: Path) -> Path:
    return shared_data / "anthropometry" / "ansur2_reach_columns.csv"


@pytest.fixture(scope="session")
def survey(maker: ModuleType, survey_file: Path) -> Rows:
    """For each sex every person of the 2012 Anthropometric Survey of U.S. Army Personnel, columns as `measures()`."""
    rows: Rows = maker.read_rows(survey_file)
    return rows
