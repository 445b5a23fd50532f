"""Pictures of the car for the report, drawn off the screen: what the viewport shows, without the window."""

from floorpan.derive import Bench
from floorpan.derive import Scene as Derived
from floorpan.items.states import State
from floorpan.layout import Layout
from floorpan.progress import finish
from floorpan.report.pictures import Renderer
from floorpan_app.stage.figures import Looks, figures
from floorpan_app.stage.ground_meshes import UNSEEN, Piece, pieces, wanted
from floorpan_app.stage.stand_in import stand_in
from floorpan_app.standing import standing
from floorpan_app.theme.record import load_theme
from floorpan_app.viewport.colours import colours_of
from floorpan_app.viewport.offscreen import OffscreenRenderer, available
from floorpan_app.viewport.scene import Scene
from floorpan_app.viewport.thing import Manner


class CarPictures:
    """Makes renderers of layouts; paper is light whatever the window is."""

    def available(self) -> bool:
        """Whether pictures can be made here; asked of a child process the first time."""
        return available()

    def make(self, layout: Layout, bench: Bench, state: State) -> Renderer:
        """A renderer of a layout in a full state. It is to be used in one thread only."""
        derived, theme = bench.scene(layout), load_theme("light")
        # Cut and pieced as on the screen: where a placed thing stands for a part of the scan, that part is left out.
        ground = finish(pieces(wanted(bench, layout, bare=False, cropping=False), layout))

        def fill(scene: Scene) -> None:
            _fill(scene, derived, ground, state)

        return OffscreenRenderer(colours_of(theme), fill, driver_side=layout.driver_side)


def renderer_of(layout: Layout, bench: Bench) -> Renderer | None:
    """A renderer of a layout with everything as it rests, None where none can be made here."""
    pictures = CarPictures()
    return pictures.make(layout, bench, standing(layout, ())) if pictures.available() else None


def _fill(scene: Scene, derived: Derived, ground: tuple[Piece, ...], state: State) -> None:
    for piece in ground:
        if piece.kind == UNSEEN:
            scene.show_patches(piece.name, piece.mesh)
        else:
            scene.show_mesh(piece.name, piece.mesh, Manner(role=piece.role))
    looks = Looks(load_theme("light").things, "report", into_console=False)
    for figure in figures(derived, state, stand_in(derived, state, derived.layout.driver()), looks):
        scene.show_body(figure.name, figure.body, figure.manner)
