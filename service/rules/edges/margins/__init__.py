"""Rules on how far text, artwork and frames keep from edges and folds: `margin.*`."""
