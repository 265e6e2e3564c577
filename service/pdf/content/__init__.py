"""What the names in a content stream stand for: colours, fonts, pictures, layers, and the graphics state."""
