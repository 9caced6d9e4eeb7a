"""How the hands are set, and the room under the crystal that they are set in."""
