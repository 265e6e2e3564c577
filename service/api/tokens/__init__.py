"""`/v1/upload-tokens`, and who may read an answer from another origin."""
