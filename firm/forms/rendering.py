from django.forms.renderers import TemplatesSetting


class OurForms(TemplatesSetting):
    """Draw a form as the parts do, however a template asks for it."""

    form_template_name = "_parts/form.html"
    field_template_name = "_parts/field.html"
