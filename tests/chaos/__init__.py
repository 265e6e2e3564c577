"""Two APIs and two workers on one PostgreSQL and one S3-compatible store, any of them killed: `python -m tests.chaos SECONDS`."""
