"""Arms of one run, and runs with one another."""
