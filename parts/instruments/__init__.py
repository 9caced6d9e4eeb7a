"""The instruments of the shop: which one is in hand, and how they are kept."""
