"""Makes the people that the tests need."""

import factory
from django.contrib.auth import get_user_model

PASSWORD = "balance-cock-7"


class UserFactory(factory.django.DjangoModelFactory):
    """A person with an account."""

    class Meta:
        model = get_user_model()
        skip_postgeneration_save = True

    username = factory.Sequence(lambda n: f"bench{n}")
    password = factory.django.Password(PASSWORD)
