"""The light PDF for the client's screen."""
