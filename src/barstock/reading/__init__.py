"""What a user wrote: a YAML file with the place of every word, its fields, its faults.

May import handbook and quantities; drawing and workshop build on it.
"""
