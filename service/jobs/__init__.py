"""Runs a check, or draws, in a sandboxed process; the queue; housekeeping. Never trusts what comes back."""
