"""What a text claims of single edges, frames, scales and finishes."""
