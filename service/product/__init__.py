"""The geometry of printed things that judging, proofs and sheets stand on: named sizes, spreads, covers, folds and panels."""
