"""Measuring: opens a PDF and says what is there, as frozen records in mm, ppi, pt and percent. Doors: `measure`,
`sizes`, `codec`. Never knows a sheet, judges or repairs.
"""
