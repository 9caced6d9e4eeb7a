"""What a form says where something is missing, too long or no number: in the words of this workshop.

Each form class may still say something closer to its field; these stand where it does not.
"""

from django import forms
from django.contrib.auth.forms import SetPasswordMixin
from django.contrib.auth.validators import UnicodeUsernameValidator
from django.core import validators


def say_it_plainly() -> None:
    """Put these words in place of the framework's own, once, at the start."""
    forms.Field.default_error_messages["required"] = "Fill this in."
    forms.ChoiceField.default_error_messages |= {
        "required": "Choose one.",
        "invalid_choice": "“%(value)s” is not on the list. Choose from the list.",
    }
    forms.ModelChoiceField.default_error_messages |= {
        "required": "Choose one.",
        "invalid_choice": "That is not on the list any more. Choose again.",
    }
    forms.DateField.default_error_messages["invalid"] = "This is not a date. Pick one, or type it like 2026-05-01."
    validators.URLValidator.message = "This is not an address on the web. Type it like https://shop.example/."
    forms.URLField.default_error_messages["invalid"] = validators.URLValidator.message
    validators.EmailValidator.message = "This is not an e-mail address. Check it, or leave it blank."
    validators.MaxLengthValidator.message = (
        "Too long: %(show_value)d characters, and the limit is %(limit_value)d. Shorten it."
    )
    validators.MinValueValidator.message = "Too small: it must be %(limit_value)s or more."
    validators.MaxValueValidator.message = "Too large: it must be %(limit_value)s or less."
    validators.DecimalValidator.messages |= {
        "max_digits": "Too many digits: %(max)s at most.",
        "max_decimal_places": "Too many decimals: %(max)s at most.",
        "max_whole_digits": "Too large: %(max)s digits before the point at most.",
    }
    validators.ProhibitNullCharactersValidator.message = "A character in this cannot be saved. Type it again."
    UnicodeUsernameValidator.message = "Use letters, digits and @ . + - _ only, and no spaces."
    SetPasswordMixin.error_messages["password_mismatch"] = "The two passwords differ. Type both again."
