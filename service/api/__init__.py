"""HTTP: one blueprint a resource, problems for what goes wrong, the description of it all. Holds no print knowledge."""
