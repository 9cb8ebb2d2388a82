"""Gauge stacks, sine bar, pins and balls, closing in on size."""
