"""From the drawing to a route: stages, setups, order and working values."""
