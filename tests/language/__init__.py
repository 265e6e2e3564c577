"""That everything people read is said in their language, and the tool that collects it for the catalogues."""
