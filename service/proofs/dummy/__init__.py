"""The folding dummy: planned, then drawn."""
