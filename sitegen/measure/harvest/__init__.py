"""Picks: totals, breakdowns, yields, timing, costs."""
