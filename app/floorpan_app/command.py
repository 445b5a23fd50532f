"""The `floorpan` command: the bench where nothing is asked, else the headless commands."""

import sys
from collections.abc import Sequence


def main(argv: Sequence[str] | None = None) -> int:
    """Run one command; exit code as the headless front gives it."""
    arguments = list(sys.argv[1:] if argv is None else argv)
    if not arguments:
        # Imported here so that headless commands start without the toolkit.
        from floorpan_app.main import main as bench

        return bench([])
    from floorpan.cli import main as headless

    return headless(arguments)


if __name__ == "__main__":
    sys.exit(main())
