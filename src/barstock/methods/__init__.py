"""Feature kinds, one file each: fields, shape, dimensions, ways of being made."""
