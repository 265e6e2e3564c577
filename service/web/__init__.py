"""Pages for people: upload, progress, result; plain JS modules, no build, nothing inline, nothing from elsewhere.
Never needed by `api/`.
"""
