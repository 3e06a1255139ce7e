"""What is worth telling: one module a subject, each from the facts and the log to moments."""
