"""Printers' catalogues in the database, and every sheet of each of their revisions."""
