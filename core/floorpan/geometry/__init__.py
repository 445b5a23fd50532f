"""Arrays only, no car words: meshes, solids, nearest distance, rays, height grids, sections, thinning, holes."""
