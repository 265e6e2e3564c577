"""`/v1/specs`: the sheets, matches, readings, and the JSON Schema of a sheet."""
