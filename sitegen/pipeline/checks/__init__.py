"""What is wrong in a journal: of runs, of what their pages would say, of templates; and what was told before."""
