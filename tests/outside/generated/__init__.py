"""Clients that others' generators make from our description: what is beside them, and what they have to do."""
