"""A run by its days: the axis, the visits, the photos, what was done on each."""
