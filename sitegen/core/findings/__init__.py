"""Diagnostics: findings, their codes, and example values."""
