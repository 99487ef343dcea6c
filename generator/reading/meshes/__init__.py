"""Mesh files in, triangles in millimetres or one clear error out."""
