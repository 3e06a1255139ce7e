"""The next trial: planned with the set-up of an earlier run, its arms dealt at random, and what it could show."""
