"""The walls around a child that a file may have taken over: what it may read, which calls it may make, what it is."""
