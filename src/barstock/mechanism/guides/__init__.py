"""The guides package finds how far blocks go in their guides before faces meet."""
