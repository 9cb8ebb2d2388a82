"""One store of kept work: what takes long to find or make, kept by all that it rests on.

A key tells the content of what was asked, the whole of the program's source, and the versions of
the libraries that shape the result: a constant changed anywhere never leaves an old answer
standing.
"""
