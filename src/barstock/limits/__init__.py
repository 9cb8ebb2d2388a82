"""What the plan's own chains of zeros and readings can hold, and what fits when it is put together."""
