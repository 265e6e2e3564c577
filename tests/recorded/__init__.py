"""A recorder of every public answer, for changes of the inside that must leave the outside as it is.

    python -m tests.recorded BEFORE
    … change the inside …
    python -m tests.recorded AFTER --against BEFORE

It plays a fixed set of calls over HTTP, the command line and `service.client`, and writes each answer to a file of its own.
It knows no module of the inside, so that these may move. `tests.build` draws the files, `service.client` is public itself.
"""
