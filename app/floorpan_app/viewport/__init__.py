"""The picture of the car: the only place of the program that knows the drawing toolkit.

`view.Viewport` is the widget. It holds a `scene.Scene` (what is shown, by name), a `camera.Camera` (how it is
looked at) and an `overlay.Overlay` (what is written over it), and tells tools where the mouse is in the car.
"""
