"""The printed pack: PDF, HTML and the pictures."""
