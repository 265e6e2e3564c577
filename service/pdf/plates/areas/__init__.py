"""Where ink lies on plates and how much of it: totals, regions, reach into the bleed."""
