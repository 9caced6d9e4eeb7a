"""Django tools without a word of the domain: forms sent from an old page, numbers, pictures, files, PDF, QR."""
