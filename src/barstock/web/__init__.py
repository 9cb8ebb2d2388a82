"""The bench pages: what stands in the route and the log, shown and entered. No trade in here."""
