"""An empty document to start from, as a sheet asks for it, as PDF and SVG."""
