"""The pages of the bench, a file for each."""
