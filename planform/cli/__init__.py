"""Commands: read, call one function, show, end with an exit code."""
