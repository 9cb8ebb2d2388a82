"""Cutting the stock by the working values alone, and comparing with the drawing."""
