"""Silver soldering: gaps, growth, fixing screws, heats, pickle, filler and heat."""
