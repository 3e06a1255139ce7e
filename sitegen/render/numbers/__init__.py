"""Figures, labels and tables of a run."""
