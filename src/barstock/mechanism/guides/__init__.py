"""Blocks in guides: which faces may meet, how far the block goes before they do."""
