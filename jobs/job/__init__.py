"""One job: its number, its state, its forms and its page."""
