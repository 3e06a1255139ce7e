"""Themes, templates and what every template is given."""
