"""The log: entries → rows, one module a family of keys."""
