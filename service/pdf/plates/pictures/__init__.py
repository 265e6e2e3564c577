"""Pictures as pictures of plates: what the file says of them, unpacked, decoded, recoloured."""
