"""A downloaded Data Package, read back as a run."""
