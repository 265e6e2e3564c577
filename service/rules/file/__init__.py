"""Rules on the file as a whole: `file.*`."""
