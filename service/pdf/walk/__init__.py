"""One walk over a page's content (see `walker`)."""
