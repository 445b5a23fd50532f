"""The shared data folder beside the repository: real scans and bad meshes, too large to carry along.

A test that needs it skips where it is absent. Where it is there and CI is set, skipping for want of it is a
failure: the test looks for something the folder no longer has.
"""

import os
from pathlib import Path

import pytest

FOLDER = Path(__file__).resolve().parent.parent.parent / "shared" / "data"
ABSENT = "the shared data folder beside the repository is absent"
WORDS = "shared data"


class Watch:
    """Notes every test that skipped for want of shared data, and fails the run where that may not be."""

    def __init__(self, *, must_be_used: bool) -> None:
        self.must_be_used = must_be_used
        self.skipped: list[str] = []

    @classmethod
    def of_this_run(cls) -> "Watch":
        return cls(must_be_used=FOLDER.is_dir() and os.environ.get("CI", "").lower() in ("1", "true"))

    @pytest.hookimpl
    def pytest_runtest_logreport(self, report: pytest.TestReport) -> None:
        reason = report.longrepr[2] if isinstance(report.longrepr, tuple) else ""
        if report.skipped and WORDS in reason:
            self.skipped.append(f"{report.nodeid}: {reason}")

    @pytest.hookimpl
    def pytest_sessionfinish(self, session: pytest.Session) -> None:
        if self.must_be_used and self.skipped and session.exitstatus == pytest.ExitCode.OK:
            session.exitstatus = pytest.ExitCode.TESTS_FAILED

    @pytest.hookimpl
    def pytest_terminal_summary(self, terminalreporter: pytest.TerminalReporter) -> None:
        if self.must_be_used and self.skipped:
            terminalreporter.section("skipped although the shared data is there", red=True)
            for line in self.skipped:
                terminalreporter.line(line)
