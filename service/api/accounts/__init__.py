"""`/v1/audit`: what was done in the name of the caller's account."""
