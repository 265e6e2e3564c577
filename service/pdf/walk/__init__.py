"""One walk over a page's content: every operator followed once, everything that is painted told."""
