"""Published tables, each with its source beside it."""
