"""The catalogue of one printer: several sheets under one name, with defaults laid over all of them."""
