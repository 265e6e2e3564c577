"""Commands that make something to look at from a file: report, pictures, plates, preview, dummy, single pages."""
