"""A vehicle on its springs: how it stands, how it sways, what its wheels carry."""
