"""Says texts in the language of the reader: sentences, numbers, lists, catalogues. Knows nothing of print."""
