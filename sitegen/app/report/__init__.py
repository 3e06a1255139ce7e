"""Findings as text, as one line, as JSON."""
