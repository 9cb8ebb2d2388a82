"""barstock: plans, proves and follows the making of small mechanisms from bar."""

__version__ = "0.1.0"
