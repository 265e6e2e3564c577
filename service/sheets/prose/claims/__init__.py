"""What statements claim of the values of a sheet: one module a block."""
