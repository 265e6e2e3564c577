"""Files: those of checks, in a folder or a bucket, and those that come piece by piece."""
