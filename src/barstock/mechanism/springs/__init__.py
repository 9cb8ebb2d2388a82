"""Coil springs of round wire: their sums, choosing, winding and matching."""
