"""Judging: measurements against a sheet; one rule, one function. Never opens a file or sets a level."""
