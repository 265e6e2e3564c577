"""Rules on colour and transparency: `color.*`, `transparency.*`."""
