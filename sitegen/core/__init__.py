"""The vocabulary of all stages, without input or output."""
