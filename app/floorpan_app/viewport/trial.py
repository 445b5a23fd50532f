"""Run as a program: draw one small picture off the screen, and end well only if something is on it."""

import sys

import numpy as np
import pyvista


def main() -> int:
    """0 where a picture could be made, 1 where it came out blank."""
    plotter = pyvista.Plotter(off_screen=True, window_size=[64, 64])
    plotter.add_mesh(pyvista.Sphere(), color="white", render=False)
    plotter.renderer.SetBackground(0.0, 0.0, 0.0)
    picture = np.asarray(plotter.screenshot(return_img=True))
    plotter.close()
    return 0 if int(picture.max()) > 0 else 1


if __name__ == "__main__":
    sys.exit(main())
