"""Who a watch belongs to, what state its job is in, and everything that happened to it."""
