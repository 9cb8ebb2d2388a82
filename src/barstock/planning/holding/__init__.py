"""The ways of holding the work, one file each."""
