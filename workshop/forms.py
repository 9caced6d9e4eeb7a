"""How forms look, and the forms for the workshop's own pages."""

from django.contrib.auth.forms import AuthenticationForm, UserCreationForm
from django.forms.renderers import TemplatesSetting


class Renderer(TemplatesSetting):
    """Renders every form field with label, hint and error from one template."""

    field_template_name = "_field.html"


class FirstStartForm(UserCreationForm):
    """Makes the owner's account, who may do everything."""

    def __init__(self, *args, **kwargs):
        super().__init__(*args, **kwargs)
        self.fields["username"].label = "Name"
        self.fields["username"].help_text = "You sign in with it. Letters, digits and @ . + - _, no spaces."
        self.fields["password2"].label = "Password again"
        self.fields["password2"].help_text = ""

    def save(self, commit=True):
        self.instance.is_staff = True
        self.instance.is_superuser = True
        return super().save(commit)


class SignInForm(AuthenticationForm):
    """Asks for name and password."""

    error_messages = {
        **AuthenticationForm.error_messages,
        "invalid_login": "Name and password do not belong together. Capital and small letters differ.",
    }

    def __init__(self, *args, **kwargs):
        super().__init__(*args, **kwargs)
        self.fields["username"].label = "Name"
