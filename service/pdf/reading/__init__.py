"""From bytes to objects, carefully: opening, streams, names, the page tree, content cut into operators."""
