"""The scans of a project, read from its folder when somebody asks for them."""

from collections.abc import Iterator, Mapping

from floorpan.errors import ProjectDamaged
from floorpan.progress import Work, finish
from floorpan.project.durable import check_inside
from floorpan.project.folder import Project
from floorpan.project.imports import Import, check_folder, path_of
from floorpan.scan import RawScan
from floorpan.scan.read import read_scan


class ProjectStore(Mapping[str, RawScan]):
    """sha256 to what was read from that scan file, in the file's own unit.

    A scan is read once, when it is first asked for, and kept. It holds the scans that were there with the right
    bytes when the project was opened or imported them; any other is not in it.
    """

    def __init__(self, project: Project) -> None:
        self._read: dict[str, RawScan] = {}
        self.follow(project)

    def follow(self, project: Project) -> None:
        """Serve another state of the project: after an import, or after a missing scan was found."""
        self._folder = project.folder
        self._imports: dict[str, Import] = {one.sha256: one for one in project.usable()}

    def load(self, sha256: str) -> Work[RawScan]:
        """Read one scan, with progress; a scan that was read before is there at once.

        Raises KeyError for a scan that is not in the store, ProjectDamaged where its file has changed since the
        project was opened, ScanProblem where nothing can be read from it.
        """
        one = self._imports[sha256]
        if sha256 not in self._read:
            path = path_of(self._folder, one)
            check_folder(self._folder)
            check_inside(self._folder, path)
            scan = yield from read_scan(path)
            if scan.sha256 != sha256:
                raise ProjectDamaged(
                    "scan-changed",
                    f"The scan file {one.original_name} has changed since the project was opened.",
                    "Import that file again.",
                    sha256=sha256,
                )
            self._read[sha256] = scan
        return self._read[sha256]

    def __getitem__(self, sha256: str) -> RawScan:
        return finish(self.load(sha256))

    def __contains__(self, sha256: object) -> bool:
        return sha256 in self._imports

    def __iter__(self) -> Iterator[str]:
        return iter(self._imports)

    def __len__(self) -> int:
        return len(self._imports)
