"""Tests of the judge stage."""
