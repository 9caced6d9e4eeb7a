"""The figures of the shop, from the records of closed jobs."""
