"""The bench: windows, tools and pictures over the floorpan core."""
