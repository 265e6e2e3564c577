"""`/v1/checks`: send a PDF and a sheet, get the result."""
