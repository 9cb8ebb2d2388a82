"""The pages, a file for each."""
