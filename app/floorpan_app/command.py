"""The `floorpan` command: the bench where nothing is asked, else the headless commands.

The toolkit is imported for the bench and for the pictures of a report only.
"""

import sys
from collections.abc import Sequence
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from floorpan.derive import Bench
    from floorpan.layout import Layout
    from floorpan.report.pictures import Renderer


def main(argv: Sequence[str] | None = None) -> int:
    """Run one command; the exit code is the headless front's, or the bench's."""
    arguments = list(sys.argv[1:] if argv is None else argv)
    if not arguments:
        from floorpan_app.main import main as bench

        return bench([])
    try:
        from floorpan.cli import main as headless

        return headless(arguments, Pictures())
    except KeyboardInterrupt:
        # Somebody stopped it while it was still loading.
        return 130


class Pictures:
    """Pictures for the papers of the headless commands."""

    def begin(self) -> None:
        """Begin to find out how they can be made here."""
        from floorpan_app.viewport.ways import ways

        ways.begin()

    def renderer_of(self, layout: "Layout", bench: "Bench") -> "Renderer | None":
        """What draws a layout; None where a library of the system is missing for it."""
        try:
            from floorpan_app.report_pictures import renderer_of
        except ImportError:
            # A server without the system's GL: the report says that it holds drawings only.
            return None
        return renderer_of(layout, bench)


if __name__ == "__main__":
    sys.exit(main())
