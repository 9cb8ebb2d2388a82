"""The order of the tasks of a part, and of the setups of all parts."""
