"""Rules on the trimmed page and its edges: `trim.*`, `bleed.*`, `margin.*`, `marks.*`."""
