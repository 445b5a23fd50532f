"""A command run in this process, and what it said."""

import json
from pathlib import Path
from typing import Any

import pytest

from floorpan.cli import main


class Told:
    """What a command said, and how it ended."""

    def __init__(self, capsys: pytest.CaptureFixture[str], *words: str | Path, renderer: Any = None) -> None:
        self.code = main([str(word) for word in words], renderer)
        self.out, self.err = capsys.readouterr()

    def document(self) -> Any:
        """Standard output as JSON, which nothing else stands beside; NaN and Infinity are none."""

        def refuse(word: str) -> None:
            pytest.fail(f"{word} in the document")

        return json.loads(self.out, parse_constant=refuse)


Capture = pytest.CaptureFixture[str]
