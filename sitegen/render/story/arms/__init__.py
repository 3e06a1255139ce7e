"""A run whose plants are compared: each arm with what it gave, all arms side by side, what differed."""
