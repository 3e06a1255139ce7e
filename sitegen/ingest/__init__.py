"""Files of a journal → `Run(setup, rows, recap, photo_files)` and findings.

Reads syntax, shape, quantities and positions; resolves references. Never judges whether a record is
plausible.
"""
