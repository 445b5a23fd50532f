"""What stands still is drawn once and kept: while a thing moves before it, every picture begins from there.

Drawing in software takes as long as there is much to see. While something is dragged nearly all of that is the same
from picture to picture: its colours and depths are copied from where they are kept, and only what moves is drawn.
"""

from collections.abc import Iterable

from vtkmodules.vtkCommonCore import vtkCommand
from vtkmodules.vtkRenderingCore import vtkRenderer
from vtkmodules.vtkRenderingOpenGL2 import vtkOpenGLFramebufferObject, vtkOpenGLRenderWindow

from floorpan_app.viewport.projection import Projection
from floorpan_app.viewport.scene import Scene

# Numbers of the drawing interface: what is copied, from where, to where, how.
_COLOUR_AND_DEPTH = 0x4000 | 0x0100
_READ, _DRAW = 0x8CA8, 0x8CA9
_NEAREST = 0x2600
_BYTES = 3
_DEPTH_BITS = 32
# Room before and behind for what moves: depths mean the same only as long as the range is the same.
_NEARER, _FARTHER = 0.6, 1.6


class Kept:
    """The still part of one renderer's picture. What moves is told to it by name."""

    def __init__(self, renderer: vtkRenderer, scene: Scene) -> None:
        self._renderer = renderer
        self._scene = scene
        self._seen: tuple[Projection, tuple[int, int]] | None = None
        self._moving: frozenset[str] = frozenset()
        self._held: vtkOpenGLFramebufferObject | None = None
        self._held_size = (0, 0)
        self._taking = self._begins = False
        self._range = (0.0, 0.0)
        renderer.AddObserver(vtkCommand.StartEvent, self._started)
        renderer.AddObserver(vtkCommand.EndEvent, self._ended)

    def is_of(self, projection: Projection, touched: Iterable[str]) -> bool:
        """Whether what is kept is how this projection shows everything but what was touched."""
        return (
            self._held is not None
            and self._seen == (projection, self._size())
            and self._moving.issuperset(touched)
        )

    def take(self, projection: Projection, moving: frozenset[str]) -> None:
        """The next picture is drawn in two goes: first what stands still, which is kept, then what moves."""
        self._seen, self._moving = (projection, self._size()), moving
        near, far = self._renderer.GetActiveCamera().GetClippingRange()
        self._range = (near * _NEARER, far * _FARTHER)
        self._renderer.GetActiveCamera().SetClippingRange(*self._range)
        self._taking = True
        self._scene.leave_out(moving)

    def begin(self) -> None:
        """The next picture begins from what is kept: only what moves is drawn."""
        self._renderer.GetActiveCamera().SetClippingRange(*self._range)
        self._only_moving()
        self._begins = True

    def end(self) -> None:
        """The next picture is drawn whole."""
        self._begins = self._taking = False
        self._renderer.EraseOn()
        self._scene.leave_out(frozenset())

    def forget(self) -> None:
        """What was kept is not how things are any more."""
        self._seen = None

    def drop(self) -> None:
        """Let go of the memory it is kept in."""
        self.end()
        self._held, self._seen = None, None

    def _only_moving(self) -> None:
        self._renderer.EraseOff()
        self._scene.leave_out(self._scene.names() - self._moving)

    def _size(self) -> tuple[int, int]:
        width, height = self._window().GetSize()
        return int(width), int(height)

    def _window(self) -> vtkOpenGLRenderWindow:
        window = self._renderer.GetRenderWindow()
        assert isinstance(window, vtkOpenGLRenderWindow)
        return window

    def _started(self, _renderer: object, _event: str) -> None:
        if self._begins and self._held is not None:
            self._copy(self._held, self._window().GetRenderFramebuffer())

    def _ended(self, _renderer: object, _event: str) -> None:
        if not self._taking:
            return
        self._taking = False
        drawn = self._window().GetRenderFramebuffer()
        self._copy(drawn, self._holder())
        drawn.Bind(_READ)
        drawn.Bind(_DRAW)
        self._only_moving()
        self._renderer.Render()

    def _holder(self) -> vtkOpenGLFramebufferObject:
        """Memory of the picture's size."""
        size = self._size()
        if self._held is None or self._held_size != size:
            self._held, self._held_size = vtkOpenGLFramebufferObject(), size
            self._held.SetContext(self._window())
            self._held.PopulateFramebuffer(*size, True, 1, _BYTES, True, _DEPTH_BITS, 0, False)
        return self._held

    def _copy(self, source: vtkOpenGLFramebufferObject, target: vtkOpenGLFramebufferObject) -> None:
        width, height = self._size()
        whole = (0, width, 0, height)
        source.Bind(_READ)
        source.ActivateReadBuffer(0)
        target.Bind(_DRAW)
        target.ActivateDrawBuffer(0)
        vtkOpenGLFramebufferObject.Blit(whole, whole, _COLOUR_AND_DEPTH, _NEAREST)
