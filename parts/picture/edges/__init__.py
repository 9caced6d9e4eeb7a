"""Edges in a picture to a fraction of a pixel."""
