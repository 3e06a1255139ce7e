"""Seeds and seedlings: counts, shares, speed of emergence."""
