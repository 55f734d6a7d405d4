"""What the job costs and what it sells for."""
