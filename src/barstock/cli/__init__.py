"""The command line: reads what is asked, calls the library, prints the answer."""
