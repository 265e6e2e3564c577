"""The report of a check, told once and set as HTML or PDF."""
