"""The invented car: closed-form shapes, a simulated handheld scan of them, and the truth to test against.

Nothing in the shapes, the scan or the truth uses the geometry code of floorpan or of a mesh library: they are
arithmetic on arrays, so that what they say can judge the rest.
"""
