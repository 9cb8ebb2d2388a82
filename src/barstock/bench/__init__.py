"""The log of the bench: what was done there, kept, and what follows for the work left."""
