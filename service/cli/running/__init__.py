"""Commands for whoever runs the service: start it, let it work, keep a back-up, see who did what."""
