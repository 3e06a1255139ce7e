"""Values as they are recorded: quantities, days, units."""
