"""Marks that charts share: series, running totals, pins, labels."""
