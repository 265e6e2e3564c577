"""Ink plates to look at."""
