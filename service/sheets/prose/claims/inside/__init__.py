"""What a text says that a file is to hold or must not: layers, comments, halftones, transparency, boxes, kinds of fonts."""
