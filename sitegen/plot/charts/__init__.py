"""One module a chart: the facts it draws."""
