"""The calls that the reference shows: recorded from a running service by `python -m tests.examples`, and tried out."""
