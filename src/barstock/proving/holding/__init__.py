"""Is the work held? One file for each way of holding it."""
