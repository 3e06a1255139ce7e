"""Facts → `Chart(name, title, description, wide, narrow, table)`.

A definition is made once in Altair and kept as JSON; here it is filled with data and drawn to SVG. Charts know no
theme.
"""
