"""The commands of `print-spec`. Nothing that HTTP callers could not have."""
