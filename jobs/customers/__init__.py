"""One customer's personal data: what is held, given out, and erased on request."""
