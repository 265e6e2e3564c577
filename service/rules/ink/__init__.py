"""Rules on ink: `ink.*`."""
