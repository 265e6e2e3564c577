"""The Dockerfile's own steps, carried out in a root file system of Debian's, where there is no docker to do it."""
