"""How a project was last looked at: camera, what is hidden, shown state. It may be lost without harm."""

from floorpan.errors import ProjectDamaged
from floorpan.project.durable import read_inside, write_whole
from floorpan.project.folder import Project
from floorpan.project.strict_json import Json, parse, print_json

VIEW = "view.json"

_LONGEST_BYTES = 1 << 20


def read_view(project: Project) -> dict[str, Json]:
    """What `write_view` kept; empty where nothing is, or where it cannot be read back."""
    try:
        text = read_inside(project.folder, project.folder / VIEW, _LONGEST_BYTES)
        view = parse(text, VIEW) if text is not None else {}
    except ProjectDamaged:
        # Nobody misses a camera position enough to be kept from the project.
        return {}
    return view if isinstance(view, dict) else {}


def write_view(project: Project, view: dict[str, Json]) -> None:
    """Keep how the project is looked at; raises NotSaved. One that was opened to look only keeps nothing."""
    if not project.read_only:
        write_whole(project.folder / VIEW, print_json(view))
