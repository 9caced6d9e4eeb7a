"""The show window: its entries, and the site that is written of them."""
