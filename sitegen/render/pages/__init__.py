"""One module for each kind of page, with the values for its template."""
