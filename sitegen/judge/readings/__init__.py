"""Measured values: impossible, unusual or contradictory ones, falling heights, doses unlike the label."""
