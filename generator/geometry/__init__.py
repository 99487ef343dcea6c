"""Triangles to facts and pictures; knows no disk, clock or framework."""
