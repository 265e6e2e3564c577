"""What is drawn from a file for people to look at. It knows measurements, and no sheet."""
