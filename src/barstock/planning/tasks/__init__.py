"""What is to be done to a part, how the work may lie for it, and with which tools."""
