"""Drawings that stretch with the page: places of marks, without words, colours or markup."""
