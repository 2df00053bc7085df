"""Addresses of the working day, headed by the thing they act on."""

from django.urls import include, path

from sessions.views import (  # noqa: F401
    away,
    bookings,
    client_exercise,
    client_map,
    client_page,
    finding,
    first_hour,
    handouts,
    home_practice,
    incidents,
    own_way,
    passes,
    plan_instead,
    plans,
    progress,
    questions,
    record_close,
    record_far,
    record_instead,
    records,
    timeline,
    today,
    what_changes,
)

today_urls = [
    path("", today.today, name="today"),
    path("first-hour/leave/", first_hour.leave, name="first_hour_leave"),
]
client_urls = [
    path("", client_page.client, name="client"),
    path("timeline/", timeline.timeline, name="timeline"),
    path("find/", finding.find, name="find"),
    path("exercises/<slug:exercise>/", client_exercise.client_exercise, name="client_exercise"),
    path("exercises/<slug:exercise>/map/", client_map.client_map, name="client_map"),
    path("skills/<slug:skill>/", client_map.client_map_skill, name="client_map_skill"),
    path("ideas/<slug:family>/", client_map.client_transfer, name="client_transfer"),
    path("exercises/<slug:exercise>/own-way/", own_way.own_way, name="own_way"),
    path("what-changes/", what_changes.what_changes, name="what_changes"),
]
booking_urls = [
    path("", bookings.day, name="bookings"),
    path("new/", bookings.new, name="booking_new"),
    path("ask-first/", bookings.ask_first, name="ask_first"),
    path("free/", bookings.free, name="free_times"),
    path("<slug:booking>/", bookings.detail, name="booking"),
    path("<slug:booking>/change/", bookings.change, name="booking_change"),
]
away_urls = [
    path("", away.away, name="away"),
    path("absences/", away.leave, name="absence_add"),
    path("absences/remove/", away.come_back, name="absence_remove"),
    path("closed/", away.close, name="closed_day_add"),
    path("closed/remove/", away.reopen, name="closed_day_remove"),
]
attendance_urls = [
    path("state/", bookings.set_state, name="attendance_state"),
    path("use-pass/", passes.use, name="pass_use"),
]
pass_urls = [
    path("", passes.passes, name="passes"),
    path("<slug:sold>/correct/", passes.correct, name="pass_correct"),
]
plan_urls = [
    path("", plans.plan, name="plan"),
    path("start/", plans.start, name="plan_start"),
    path("add/", plans.add, name="plan_add"),
    path("approve/", plans.approve, name="plan_approve"),
    path("reopen/", plans.reopen, name="plan_reopen"),
    path("rows/<slug:item>/", plans.item, name="plan_item"),
    path("rows/<slug:item>/keep/", plans.keep, name="plan_item_keep"),
    path("rows/<slug:item>/move/", plans.move, name="plan_item_move"),
    path("rows/<slug:item>/remove/", plans.remove, name="plan_item_remove"),
    path("rows/<slug:item>/instead/", plan_instead.instead, name="plan_item_instead"),
    path("rows/<slug:item>/take-back/", plan_instead.take_back, name="plan_item_take_back"),
]
record_urls = [
    path("", records.record, name="record"),
    path("start/", records.start, name="record_start"),
    path("flags-changed/", records.flags_changed, name="record_flags_changed"),
    path("flags-seen/", records.flags_seen, name="record_flags_seen"),
    path("entry/", records.entry, name="record_entry"),
    path("undo/", records.undo, name="record_undo"),
    path("stop/", records.stop, name="record_stop"),
    path("instead/", record_instead.instead, name="record_instead"),
    path("how-far/", record_far.far, name="record_far"),
    path("close/", record_close.close, name="record_close"),
    path("sign-off/", records.sign_off, name="record_sign_off"),
    path("addition/", records.addition, name="record_addition"),
]
incident_urls = [
    path("<slug:incident>/", incidents.incident, name="incident"),
    path("<slug:incident>/out-of-use/", incidents.out_of_use, name="incident_out_of_use"),
]
home_practice_urls = [
    path("", home_practice.home_practice, name="home_practice"),
    path("exercise/", home_practice.exercise, name="home_exercise"),
    path("move/", home_practice.move, name="home_move"),
    path("remove/", home_practice.remove, name="home_remove"),
    path("preview/", home_practice.preview, name="home_preview"),
    path("issue/", home_practice.issue, name="home_issue"),
]
handout_urls = [
    path("<slug:handout>/", handouts.handout, name="handout"),
    path("<slug:handout>/pdf/", handouts.handout_pdf, name="handout_pdf"),
    path("<slug:handout>/print/", handouts.handout_print, name="handout_print"),
    path("<slug:handout>/call-back/", handouts.call_back, name="call_back"),
]

progress_urls = [
    path("", progress.progress, name="progress"),
    path("pdf/", progress.progress_pdf, name="progress_pdf"),
    path("print/", progress.progress_print, name="progress_print"),
]
question_urls = [
    path("pdf/", questions.questions_pdf, name="questions_pdf"),
    path("print/", questions.questions_print, name="questions_print"),
]

app_name = "sessions"
urlpatterns = [
    path("", include(today_urls)),
    path("clients/<slug:client>/", include(client_urls)),
    path("bookings/", include(booking_urls)),
    path("away/", include(away_urls)),
    path("attendances/<slug:attendance>/", include(attendance_urls)),
    path("attendances/<slug:attendance>/plan/", include(plan_urls)),
    path("attendances/<slug:attendance>/record/", include(record_urls)),
    path("incidents/", include(incident_urls)),
    path("clients/<slug:client>/home-practice/", include(home_practice_urls)),
    path("clients/<slug:client>/passes/", include(pass_urls)),
    path("clients/<slug:client>/progress/", include(progress_urls)),
    path("handouts/", include(handout_urls)),
    path("questions/", include(question_urls)),
]
