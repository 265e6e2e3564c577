"""Our own sentences: a sheet as one line of prose a demand, in any language, and read back word for word."""
