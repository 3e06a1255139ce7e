"""From rows to SVG: axes, scales, tables, the filled specification."""
