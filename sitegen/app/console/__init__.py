"""What every command prints to and ends with: streams, the report of findings, exit statuses, refusals of the system."""
