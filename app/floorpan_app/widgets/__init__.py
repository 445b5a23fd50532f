"""Our own pieces: each paints itself from the theme record, is measured by its text, has a spoken name.

Every piece takes small frozen values that stand beside it; none knows the core.
"""
