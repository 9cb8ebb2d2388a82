"""Pieces soldered into one: joints, fixture, heats, gaps, growth, fixing screws, cleaning."""
