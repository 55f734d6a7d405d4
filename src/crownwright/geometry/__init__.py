"""Plane and solid geometry: polygons, hulls, meshes."""
