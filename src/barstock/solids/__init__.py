"""The one door to the CAD kernel, and the processes that work behind it."""
