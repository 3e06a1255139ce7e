"""Computed values: figures and the tree that holds them."""
