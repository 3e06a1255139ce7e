"""Themes, templates and the values that every template is given."""
