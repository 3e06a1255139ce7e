"""Pages → output folder, `Outcome(written, unchanged, removed)`.

The old output stays until the new one is whole.
"""
