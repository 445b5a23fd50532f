"""Data only: fonts, icons, palettes, vessels and body sizes, read with importlib.resources."""
