"""A route in words, in the reader's unit and on the machine's own dial.

Nothing below this package makes a sentence of the route; all that prints one calls it.
"""
