"""The geometry of printed things that judging and proofs stand on: spreads, covers, folds and panels."""
