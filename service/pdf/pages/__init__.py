"""A page without its content: boxes, trim, rotation, annotations."""
