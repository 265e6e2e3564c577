"""Rules on what happens after printing: `fold.*`, `spine.*`, `finish.*`."""
