"""What a request and its answer have beside their content: digests, times, waiting for what will come."""
