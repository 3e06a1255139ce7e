"""Checks of the measure stage."""
