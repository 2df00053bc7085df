"""The open questions for a licensed clinician, on paper: a PDF, or a page for the browser's own print."""

import logging

from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.template.loader import render_to_string

from library import question_wording
from library.models import table_in_force
from sessions import pdf
from studio import clock
from studio.access import opens
from studio.roles import INSTRUCTOR, OWNER

log = logging.getLogger(__name__)


@opens(OWNER, INSTRUCTOR)
def questions_pdf(request):
    """As a PDF; where none can be made, the page for the browser's own print."""
    page = _page(request)
    html = render_to_string("print/questions.html", page | {"for_pdf": True}, request)
    try:
        data = pdf.make_pdf(html, "questions")
    except pdf.PdfError as error:
        log.warning("the questions go to the browser's print: %s", error)
        return redirect("sessions:questions_print")
    answer = HttpResponse(data, content_type="application/pdf")
    answer["Content-Disposition"] = f'inline; filename="questions-{page["today"].isoformat()}.pdf"'
    return answer


@opens(OWNER, INSTRUCTOR)
def questions_print(request):
    return render(request, "print/questions.html", _page(request))


def _page(request) -> dict:
    return {
        "sheet": question_wording.sheet(table_in_force()),
        "paper": request.studio.paper,
        "studio": request.studio,
        "today": clock.today(request.studio.zone),
    }
