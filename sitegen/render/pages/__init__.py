"""One module a kind of page: what its template is given."""
