"""The vehicle package stands a vehicle on its springs: how it rests, sways and loads its wheels."""
