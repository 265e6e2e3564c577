"""`print-spec sheets …`."""
