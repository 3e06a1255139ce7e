"""The records of an experiment: set-up, rows, and their tables."""
