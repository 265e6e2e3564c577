"""The plain words of demands in German and French: what may stand beside a value and changes nothing about it."""
