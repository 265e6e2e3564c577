"""Drawn upon a picture: boxes, outlines, numbered markers, and the legend below."""
