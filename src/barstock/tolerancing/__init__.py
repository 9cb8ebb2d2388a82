"""Limits when the datum changes: dimension chains, working limits, fits."""
