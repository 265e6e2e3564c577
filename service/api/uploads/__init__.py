"""`/v1/uploads`: a large file piece by piece, so that a broken line costs only what was on it (tus 1.0)."""
