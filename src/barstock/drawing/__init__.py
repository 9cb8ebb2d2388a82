"""What the drawing says: the model, and reading and writing build.yaml."""
