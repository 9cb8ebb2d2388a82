"""What was done at the bench, kept: ticks, sizes, spoiled copies, times; and what follows of it."""
