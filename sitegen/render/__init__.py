"""Everything computed → `Page(address, media, body)`.

Fills the templates of a theme. Never computes a figure.
"""
