"""Says texts in the language of the reader: sentences, numbers, lists, catalogues. Of print it knows the words alone."""
