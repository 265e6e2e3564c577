"""Rules on pictures: `image.*`."""
