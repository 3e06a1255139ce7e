"""Air, light, vapour pressure deficit, degree days."""
