"""Published reference values, each with its source and how far it is to be trusted."""
