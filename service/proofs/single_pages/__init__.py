"""Spreads cut into single pages."""
