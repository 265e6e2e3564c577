"""What a text claims of single edges, frames, scales, finishes and how pages stand."""
