"""The rack: which bar a part comes from, how it is cut up, what to buy."""
