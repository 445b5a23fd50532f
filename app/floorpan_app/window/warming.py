"""Getting the bench ready behind the start screen: the core and the 3D library are imported after the first paint."""

from floorpan.progress import Step, Work
from floorpan_app import messages


def warming() -> Work[None]:
    """Import what the bench needs, heaviest last; done twice it takes no time."""
    yield Step(0.0, messages.GETTING_READY)
    import floorpan_app.window.session

    yield Step(0.4, messages.GETTING_READY)
    import floorpan_app.window.works

    yield Step(0.6, messages.GETTING_READY)
    import floorpan_app.window.making  # noqa: F401

    yield Step(1.0, messages.GETTING_READY)
