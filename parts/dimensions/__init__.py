"""A measured number: typed and shown, declared on a model, asked for in a form."""
