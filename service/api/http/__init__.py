"""What every resource has in common over HTTP: argument locations, languages, headers, problems, uploads."""
