"""What one page paints, as plain records: colours, pictures, type, lines and areas."""
