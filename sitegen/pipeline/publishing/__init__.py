"""A build that ends in an output folder: the whole site, or one experiment's page by itself."""
