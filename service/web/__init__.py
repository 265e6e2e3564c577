"""Pages for people: upload, progress and result. They need no build, no other host, and show what they can without script."""
