"""The commands behind `print-spec`, one module a resource. They print and return an exit code."""
