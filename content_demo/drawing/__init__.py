"""Drawn pictures for the invented journal: from a table of scenes to image files."""
