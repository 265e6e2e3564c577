"""Callbacks: a signed message to the address that a caller named, once the check is done with; never to where it must not go."""
