"""A page rewritten so that inks become the channels of a rendering."""
