"""The format of a sheet: keys and kinds of values, reading, writing, refusing."""
