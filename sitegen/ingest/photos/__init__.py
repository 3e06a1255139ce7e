"""Photo files of an experiment: the folder and the headers."""
