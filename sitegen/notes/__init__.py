"""Episode notes: what is told of a run, spoken and written, from its facts."""
