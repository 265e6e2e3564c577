"""HTTP as it comes in and goes out: requests taken in whole, answers given out whole, so that a slow caller costs no thread."""
