"""Serving the workshop: start, addresses, certificate, slow clients."""
