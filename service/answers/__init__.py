"""The JSON shapes of answers, for HTTP and the command line alike. No HTTP in it."""
