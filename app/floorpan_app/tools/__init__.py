"""What the hand does in the viewport, without a window: press, move and release in car millimetres.

A tool answers each with a proposal. Whoever wires it turns proposals into edits of the layout; a tool keeps no
layout and knows no check.
"""
