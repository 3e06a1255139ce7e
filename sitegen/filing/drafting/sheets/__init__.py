"""Cells of a spreadsheet → tables with headings → records."""
