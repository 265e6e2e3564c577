"""Child processes that nobody trusts: what runs in them, and how they are started, bounded and read."""
