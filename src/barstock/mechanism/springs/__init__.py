"""The springs package sums, chooses, winds and matches coil springs of round wire."""
