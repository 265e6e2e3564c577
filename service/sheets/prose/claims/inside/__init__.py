"""What a text says that a file is to hold or must not: layers, comments, halftones, boxes, kinds of fonts."""
