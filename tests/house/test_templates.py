"""Templates carry no code and no style, so that the content policy can be strict."""

import re

import pytest

from tests.house.tree import files, name_of

BANNED = {
    "script with code in it": r"<script(?![^>]*\bsrc=)",
    "script or style from elsewhere": r"<(script|link)[^>]*(src|href)=.(https?:)?//",
    "style element": r"<style\b",
    "style attribute": r"\sstyle\s*=",
    "event attribute": r"<[^>]*\son[a-z]+\s*=",
    "hx-on": r"\bhx-on\b",
    "js: value": r"[\"'](js|javascript):",
    "trigger filter": r"hx-trigger=[\"'][^\"']*\[",
    "safe": r"\|\s*safe(seq)?\b",
    "autoescape off": r"{%\s*autoescape\s+off",
    "query": r"{[{%][^}]*\.(objects|all|count|filter)\b",
}


def faults_in(text: str) -> list[str]:
    return [
        fault
        for fault, pattern in BANNED.items()
        if re.search(pattern, text, re.IGNORECASE)
    ]


@pytest.mark.parametrize(
    ("sample", "fault"),
    [
        ("<script>go()</script>", "script with code in it"),
        ('<script src="//cdn.example.com/x.js">', "script or style from elsewhere"),
        ("<style>p {}</style>", "style element"),
        ('<p style="color: red">', "style attribute"),
        ('<button class="x" onclick="go()">', "event attribute"),
        ("<form hx-on:submit='go()'>", "hx-on"),
        ("""<p hx-vals='js:{x: 1}'>""", "js: value"),
        ("""<p hx-trigger="click[ctrlKey]">""", "trigger filter"),
        ("{{ note|safe }}", "safe"),
        ("{% autoescape off %}", "autoescape off"),
        ("{% for job in customer.jobs.all %}", "query"),
    ],
)
def test_each_banned_thing_is_caught(sample, fault):
    assert faults_in(sample) == [fault]


@pytest.mark.parametrize(
    "sample",
    [
        """<script src="{% static 'firm/js/office.js' %}" defer></script>""",
        """<link rel="stylesheet" href="{% static 'firm/css/office.css' %}">""",
        '<option value="once">Carry on = go on</option>',
        '<p hx-trigger="input changed delay:300ms" class="lifestyle">',
        "{{ note|linebreaks }} {{ wall.is_safe }} {{ row.all_day }}",
        "{{ forloop.counter }}",
    ],
)
def test_what_pages_need_is_let_through(sample):
    assert faults_in(sample) == []


def test_no_template_carries_code_or_style():
    found = list(files("templates/**/*.html", "templates/**/*.svg"))
    assert found
    faults = {name_of(path): faults_in(path.read_text()) for path in found}
    assert {name: fault for name, fault in faults.items() if fault} == {}
