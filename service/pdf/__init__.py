"""Measuring: opens a PDF and says what is there. Doors: `measure`, `sizes`, `codec`. Knows no sheet and no HTTP."""
