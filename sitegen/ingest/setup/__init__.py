"""The set-up of an experiment: everything above its log."""
