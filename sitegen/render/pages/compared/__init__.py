"""What pages show of several runs: tables, drawings, what differed, the best so far, what to expect."""
