"""Fonts: what they are, what their programs hold, and which glyphs and characters a string shows."""
