"""The pages as a person uses them: the real service, a real browser."""
