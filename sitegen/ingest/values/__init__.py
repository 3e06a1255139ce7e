"""Typed values: quantities, dates, prices, plants."""
