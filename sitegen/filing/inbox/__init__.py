"""Lines of an inbox → visits of experiments, filed as one transaction."""
