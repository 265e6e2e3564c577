"""Files that nobody made in good faith, sent over HTTP."""
