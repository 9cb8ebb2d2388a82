"""Solids: making them, moving them, adding, cutting, measuring. The one door to the CAD kernel.

Nothing outside solids/ imports the kernel. Lengths in mm. Heavy imports happen inside functions.
"""
