"""The desk: an open job book and the verbs that pages and commands call on it, one a file."""
