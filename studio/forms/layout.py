"""What forms of every app share."""

from crispy_forms.helper import FormHelper
from crispy_forms.layout import Layout


def fields_only(*parts) -> FormHelper:
    """Return a helper that draws fields only: the page holds the form element, the token and the button."""
    helper = FormHelper()
    helper.form_tag = False
    helper.disable_csrf = True
    helper.layout = Layout(*parts)
    return helper
