"""A mesh file → facts and pictures, kept by what they were made from."""
