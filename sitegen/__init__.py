"""Turns the records of indoor growing experiments into a validated log, true numbers and a public site."""
