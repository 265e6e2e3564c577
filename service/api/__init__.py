"""HTTP: translates, problems, OpenAPI. Holds no print knowledge."""
