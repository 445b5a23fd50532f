"""What is in the picture, by name."""

from collections.abc import Callable
from weakref import WeakKeyDictionary

import numpy as np
from numpy.typing import NDArray
from vtkmodules.vtkRenderingCore import vtkRenderer

from floorpan.geometry.mesh import Mesh
from floorpan.geometry.solids import Body, Hull
from floorpan_app.tools.events import Pick, Sight
from floorpan_app.viewport.colours import Colours
from floorpan_app.viewport.form import Form
from floorpan_app.viewport.lettering import FloorWord, Lettering
from floorpan_app.viewport.lines import line_actor
from floorpan_app.viewport.outline import outline_of
from floorpan_app.viewport.patches import Patches
from floorpan_app.viewport.rounded import skin_of
from floorpan_app.viewport.surfaces import Shading, coloured, isolines, set_colours, smooth_normals, surface
from floorpan_app.viewport.thing import NEARLY_SOLID, SHADE, Manner, Part, Thing, Trim

Floats = NDArray[np.float64]

_ISOLINE_PX = 1.2
# Above every floor.
_HIGH_MM = 10_000.0
_DOWN = (0.0, 0.0, -1.0)


class Scene:
    """Named things in one renderer. Showing a name again replaces what stood under it.

    on_change is called after every change; `scale` is device pixels per logical pixel.
    """

    def __init__(
        self, renderer: vtkRenderer, colours: Colours, on_change: Callable[[], None], scale: float = 1.0
    ) -> None:
        self._renderer = renderer
        self._colours = colours
        self._on_change = on_change
        self._scale = scale
        self._things: dict[str, Thing] = {}
        self._touched: set[str] = set()
        self._hulls: WeakKeyDictionary[Hull, Form] = WeakKeyDictionary()
        self._meshes: WeakKeyDictionary[Mesh, Form] = WeakKeyDictionary()

    def show_mesh(
        self,
        name: str,
        mesh: Mesh,
        manner: Manner,
        *,
        matrix: Floats | None = None,
        shading: Shading | None = None,
    ) -> None:
        """Show a mesh; with `shading` its points take colours from values instead of the manner's role."""
        form = self._meshes.get(mesh) if shading is None else None
        if form is None:
            shape = surface(mesh.points, mesh.faces, smooth_normals(mesh))
            if shading is None:
                form = self._meshes[mesh] = Form(shape)
            else:
                set_colours(shape, coloured(shading))
                form = Form(shape)
        trims = []
        if shading is not None and shading.isolines_at:
            lines = isolines(mesh, shading.values, shading.isolines_at)
            trims.append(Trim(line_actor(lines, _ISOLINE_PX * self._scale), "ink"))
        part = Part(form, np.eye(4))
        if manner.outlined:
            trims.append(outline_of(part, self._renderer.GetActiveCamera(), self._scale))
        self._put(name, Thing([part], manner, trims), matrix)

    def show_body(self, name: str, body: Body, manner: Manner, *, matrix: Floats | None = None) -> None:
        """Show rounded solids. The same hulls at other poses only move."""
        forms = [self._form_of(solid.hull) for solid in body]
        poses = [solid.pose.matrix() for solid in body]
        thing = self._things.get(name)
        same = thing is not None and thing.manner == manner
        if thing is not None and same and [part.form for part in thing.parts] == forms:
            for part, pose in zip(thing.parts, poses, strict=True):
                part.pose = pose
            thing.move(np.eye(4) if matrix is None else matrix)
            self._changed(name)
            return
        parts = [Part(form, pose) for form, pose in zip(forms, poses, strict=True)]
        self._put(name, Thing(parts, manner), matrix)

    def show_patches(self, name: str, mesh: Mesh, *, matrix: Floats | None = None) -> None:
        """Show unseen patches, hatched."""
        self._put(name, Patches(mesh, Manner(role="unseen", pickable=False), self._scale), matrix)

    def show_lettering(self, name: str, word: FloorWord, on: str) -> None:
        """Lay a word over the mesh shown as `on`, which must be there."""
        ground = self._things[on].manner.role
        self._put(name, Lettering(word, lambda x, y: height_of(self, on, x, y), ground), None)

    def move(self, name: str, matrix: Floats) -> None:
        """Stand a thing at a rigid (4, 4) matrix [mm] from where it was shown."""
        self._things[name].move(matrix)
        self._changed(name)

    def set_shown(self, name: str, shown: bool) -> None:
        """Hide a thing, or let it be seen again."""
        if self._things[name].shown != shown:
            self._things[name].show(shown)
            self._changed(name)

    def remove(self, name: str) -> None:
        """Take a thing out of the picture; one that is not there is no matter."""
        thing = self._things.pop(name, None)
        if thing is None:
            return
        for actor in thing.actors():
            self._renderer.RemoveActor(actor)
        self._changed(name)

    def close(self) -> None:
        """Take out everything and let go of the renderer; what is shown afterwards is not drawn."""
        for name in tuple(self._things):
            self.remove(name)
        self._renderer = vtkRenderer()

    def names(self, *, see_through: bool = False) -> frozenset[str]:
        """Every name shown or hidden; only of what one looks through at what lies behind it, where asked."""
        opacities = ((name, thing.manner.opacity) for name, thing in self._things.items())
        return frozenset(
            name for name, opacity in opacities if not see_through or SHADE < opacity < NEARLY_SOLID
        )

    def touched(self) -> frozenset[str]:
        """What was changed since it was last asked for."""
        names, self._touched = frozenset(self._touched), set()
        return names

    def leave_out(self, names: frozenset[str]) -> None:
        """Do not draw these in the next pictures, and every other again; nothing else about them changes."""
        for name, thing in self._things.items():
            thing.leave_out(name in names)

    def outermost(self) -> Floats | None:
        """The outermost points (K, 3) [mm] of everything that is seen; None where nothing is."""
        found = [thing.outermost() for thing in self._things.values() if thing.shown]
        return np.concatenate(found) if found else None

    def recolour(self, colours: Colours) -> None:
        """Take another theme."""
        self._colours = colours
        for name, thing in self._things.items():
            thing.colour(colours)
            self._changed(name)

    def pick(self, sight: Sight, *, without: frozenset[str] = frozenset(), only: str = "") -> Pick | None:
        """The nearest surface on a ray, of what is seen and can be picked, passing over `without`.

        only : of this one, whether it is seen or not
        """
        best: tuple[float, Pick] | None = None
        for name, thing in self._things.items():
            passed_over = not thing.shown or not thing.manner.pickable or name in without
            if name != only if only else passed_over:
                continue
            met = thing.meet(name, sight)
            if met is not None and (best is None or met[0] < best[0]):
                best = met
        return None if best is None else best[1]

    def fit(self, mm_per_pixel: float, right: Floats | None, *, coarse: bool) -> None:
        """Make ready for a picture at a scale; `coarse` draws big meshes by stand-ins.

        right : where the right hand of the eye is (unit), for lettering; None in fixed views, which have none
        """
        for thing in self._things.values():
            thing.thin(coarse)
            if isinstance(thing, Patches):
                thing.fit_dashes(mm_per_pixel)
            elif isinstance(thing, Lettering):
                thing.face(right)

    def _form_of(self, hull: Hull) -> Form:
        form = self._hulls.get(hull)
        if form is None:
            skin = skin_of(hull)
            form = self._hulls[hull] = Form(surface(skin.points, skin.faces, skin.normals))
        return form

    def _put(self, name: str, thing: Thing, matrix: Floats | None) -> None:
        self.remove(name)
        thing.colour(self._colours)
        if matrix is not None:
            thing.move(matrix)
        for actor in thing.actors():
            self._renderer.AddActor(actor)
        self._things[name] = thing
        self._changed(name)

    def _changed(self, name: str) -> None:
        self._touched.add(name)
        self._on_change()


def height_of(scene: Scene, name: str, x_mm: float, y_mm: float) -> float | None:
    """How high a thing lies at a place, seen from above [mm]; None where it is not."""
    sight = Sight(origin_mm=(x_mm, y_mm, _HIGH_MM), direction=_DOWN, forward=_DOWN)
    met = scene.pick(sight, only=name)
    return None if met is None else met.point_mm[2]
