from django import forms


class NoteForm(forms.Form):
    words = forms.CharField(
        label="Write a note",
        max_length=2000,
        widget=forms.Textarea(attrs={"rows": 3}),
        help_text="What you found, what was moved, what the office should know.",
        error_messages={
            "required": "Write a few words first.",
            "max_length": "Keep the note under 2000 letters.",
        },
    )
