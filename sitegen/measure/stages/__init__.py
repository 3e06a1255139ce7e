"""Growth stages: first days, medians, days between stages."""
