"""The demo order: Halyard Lane Bakery sends its print to Copperbeck Press, some of it right, some as it goes wrong in life."""
