"""Pieces soldered into one: joints, fixture, heats, gaps, growth, screws."""
