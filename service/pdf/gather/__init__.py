"""From the walk's marks to the facts of a page."""
