"""Fields → an entry at the end of a log, and how it is taken back."""
