"""Sizes from gauges: stacks, sine bar, pins and balls, closing in on size."""
