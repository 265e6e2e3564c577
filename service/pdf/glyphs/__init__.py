"""Glyphs as the ink that they leave: outlines out of font programs, in ems."""
