from typing import Any

from django.http import Http404, HttpResponse
from django.shortcuts import render
from django.utils.timezone import now
from django.views.decorators.http import (
    require_http_methods,
    require_POST,
    require_safe,
)

from firm import may
from firm.engine.refusal import Refused
from firm.views.pages import OurRequest, go_to, page_or_part
from jobs.actions.enquiry import AskedFacts, SiteFacts, edit_enquiry
from jobs.actions.job import mark_lost, take_up_again
from jobs.forms.job import JobForm, LostForm, WhatForm, WhereForm
from jobs.models import Job
from jobs.queries import job as queries
from jobs.views.refusals import press, say

A_PAGE = 50


@require_safe
def jobs(request: OurRequest) -> HttpResponse:
    if not may.see_customers(request.user):
        raise Http404
    asked = {name: request.GET.get(name, "") for name in ("stage", "q", "before")}
    rows, next_key = queries.job_list(
        request.user, asked["stage"], asked["q"], asked["before"], A_PAGE
    )
    context = {
        "jobs": rows,
        "next_key": next_key,
        "stages": Job.Stage.choices,
        "stage": asked["stage"],
        "words": asked["q"],
        "may_take": may.take_enquiries(request.user),
    }
    return page_or_part(request, "jobs/job/list.html", "jobs/job/_list.html", context)


@require_safe
def job(request: OurRequest, job_id: int) -> HttpResponse:
    page = queries.job_page(request.user, job_id)
    context = {
        "page": page,
        "job": page.job,
        "person": request.user,
        "may_change": may.take_enquiries(request.user),
    }
    return render(request, "jobs/job/job.html", context)


@require_http_methods(["GET", "POST"])
def edit(request: OurRequest, job_id: int) -> HttpResponse:
    found = queries.job_to_change(request.user, job_id)
    known = vars(found.site) | vars(found.enquiry) | vars(found)
    form = JobForm(request.POST or None, initial=known)
    if form.is_valid():
        try:
            edit_enquiry(
                found.pk,
                SiteFacts(**_only(form, WhereForm)),
                AskedFacts(**_only(form, WhatForm)),
                by=request.user,
                now=now(),
            )
        except Refused as refusal:
            say(form, refusal)
        else:
            return go_to(request, found)
    return page_or_part(
        request,
        "jobs/job/edit.html",
        "jobs/job/_edit_form.html",
        {"job": found, "form": form},
        invalid=bool(form.errors),
    )


@require_http_methods(["GET", "POST"])
def lost(request: OurRequest, job_id: int) -> HttpResponse:
    found = queries.job_to_change(request.user, job_id)
    form = LostForm(request.POST or None)
    if form.is_valid():
        try:
            mark_lost(found.pk, **form.cleaned_data, by=request.user, now=now())
        except Refused as refusal:
            say(form, refusal)
        else:
            return go_to(request, found)
    return page_or_part(
        request,
        "jobs/job/lost.html",
        "jobs/job/_lost_form.html",
        {"job": found, "form": form},
        invalid=bool(form.errors),
    )


@require_POST
def again(request: OurRequest, job_id: int) -> HttpResponse:
    found = queries.job_to_change(request.user, job_id)
    return press(
        request, lambda: take_up_again(found.pk, by=request.user, now=now()), found
    )


def _only(form: JobForm, part: type[WhatForm | WhereForm]) -> dict[str, Any]:
    return {name: form.cleaned_data[name] for name in part.base_fields}
