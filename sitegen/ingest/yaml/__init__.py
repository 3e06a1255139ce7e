"""YAML text as nodes with positions, and the typed reader over them."""
