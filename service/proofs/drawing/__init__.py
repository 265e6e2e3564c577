"""A sheet's product drawn to scale with its measures, as SVG and PDF, from the sheet alone."""
