"""Which tables hold who is signed in."""

SESSION_TABLES = ("workshop_session", "django_session")
"""The workshop's own, and Django's, where programs of the first edition kept them."""
