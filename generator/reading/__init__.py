"""From folders to records and meshes; every problem with its place."""
