"""Turns the records of indoor growing experiments into a validated log, true numbers and a public site."""

__all__ = ["__version__"]

__version__ = "0.1.0"  # the only place: the build reads it here, and so do the commands
