"""What a job costs, what it is quoted at, what is owed, and what finished jobs teach. Documents in, documents out."""
