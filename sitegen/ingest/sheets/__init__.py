"""Spreadsheets and sensor exports beside an experiment."""
