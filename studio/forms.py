"""How every form is drawn."""

from django.forms.renderers import TemplatesSetting


class Renderer(TemplatesSetting):
    """Our own form and field templates: a label above, a big input, help and the error under it."""

    form_template_name = "forms/form.html"
    field_template_name = "forms/field.html"
