"""The type checker and the linter are content, so that one command tells all."""

import subprocess
import sys
from pathlib import Path

import pytest

from contract.sources import TOP


def ask(*command: str) -> tuple[int, str]:
    done = subprocess.run(
        [sys.executable, "-m", *command], cwd=TOP, capture_output=True, text=True, check=False
    )
    return done.returncode, done.stdout + done.stderr


# Without files mypy takes those that pyproject.toml names: the core and the app. The scripts are not in a
# package, and both are called `run`, so each is read by itself.
@pytest.mark.parametrize(
    "files", [(), ("app/run",), ("tests/run",)], ids=["packages", "app/run", "tests/run"]
)
def test_the_types_agree(files: tuple[str, ...]) -> None:
    ended, told = ask("mypy", *files)
    assert ended == 0, told


def test_the_linter_is_content() -> None:
    ended, told = ask("ruff", "check", "--output-format=concise", ".")
    assert ended == 0, told


def test_the_layout_of_the_code_is_settled() -> None:
    ended, told = ask("ruff", "format", "--check", ".")
    assert ended == 0, told


@pytest.mark.parametrize(
    ("command", "text", "told"),
    [
        (
            ("mypy", "--config-file", "pyproject.toml", "--no-incremental"),
            "def f(x): return x\n",
            "no-untyped-def",
        ),
        (
            ("mypy", "--config-file", "pyproject.toml", "--no-incremental"),
            "x: int = 'a'  # type: ignore\n",
            "ignore",
        ),
        (("ruff", "check", "--config", "pyproject.toml"), "import os\n", "F401"),
        (("ruff", "check", "--config", "pyproject.toml"), "print(1)\n", "T201"),
        (("ruff", "format", "--check", "--config", "pyproject.toml"), "x = {'a':1}\n", "reformatted"),
    ],
)
def test_a_fault_is_told(tmp_path: Path, command: tuple[str, ...], text: str, told: str) -> None:
    fault = tmp_path / "made_up.py"
    fault.write_text(text)
    ended, words = ask(*command, str(fault))
    assert ended == 1, words
    assert told in words


def test_no_module_is_excused() -> None:
    """Strict for some is strict for none."""
    settings = (TOP / "pyproject.toml").read_text(encoding="utf-8")
    assert "mypy.overrides" not in settings
    assert "strict = true" in settings
