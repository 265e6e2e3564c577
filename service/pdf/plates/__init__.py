"""Ink plates: which ink lands where, and how much of it."""
