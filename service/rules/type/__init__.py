"""Rules on type, lines and copy: `text.*`, `font.*`, `line.*`, `copy.*`."""
