"""From the features of a part to its tasks."""
