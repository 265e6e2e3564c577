"""Pictures of pages as they will print, with boxes and findings drawn upon them."""
