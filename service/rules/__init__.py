"""Judging: plain measurements against a sheet. Opens no file."""
