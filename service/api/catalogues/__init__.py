"""`/v1/catalogues`: several sheets as the catalogue of one printer, and its sheets found."""
