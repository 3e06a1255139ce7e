"""Plants, seeds, counts and picks that have to add up."""
