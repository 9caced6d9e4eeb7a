"""What was done last time: the record of every job, the search over it, and the numbers of the shop."""
