"""Staging, sequencing, setups and working values: from the drawing to a route."""
