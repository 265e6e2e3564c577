"""Running a check safely: sandboxed child processes, a bounded queue, housekeeping."""
