"""The command line: read, call one verb, show."""
