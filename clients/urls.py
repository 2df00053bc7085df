"""Addresses about clients, headed by the thing they act on. No name and no health word in any of them."""

from django.urls import include, path

from clients.views import care, flags, goals, intake, measures, people

client_urls: list = [
    path("", people.client_list, name="list"),
    path("new/", people.new_client, name="new"),
]
intake_urls: list = [
    path("contact/", people.change_contact, name="contact"),
    path("intake/", intake.record_intake, name="intake"),
    path("answers/", intake.read_answers, name="answers"),
]
flag_urls: list = [
    path("", flags.flag_list, name="flags"),
    path("condition/", flags.add_condition, name="flag_add"),
    path("instruction/", flags.add_instruction, name="instruction_add"),
    path("<slug:flag>/state/", flags.set_flag_state, name="flag_state"),
    path("<slug:flag>/change/", flags.change_flag, name="flag_change"),
]
goal_urls: list = [
    path("", goals.goal_list, name="goals"),
    path("new/", goals.add_goal, name="goal_add"),
    path("<slug:goal>/words/", goals.change_goal, name="goal_change"),
    path("<slug:goal>/number/", goals.aim_goal, name="goal_aim"),
    path("<slug:goal>/rate/", goals.rate_goal, name="goal_rate"),
    path("<slug:goal>/state/", goals.set_goal_state, name="goal_state"),
]
care_urls: list = [
    path("", care.care_page, name="care"),
]
measure_urls: list = [
    path("", measures.measure_list, name="measures"),
    path("<slug:measure>/", measures.take_measure, name="measure_take"),
    path("<slug:measure>/<slug:measurement>/", measures.correct_measure, name="measure_correct"),
]

app_name = "clients"
urlpatterns = [
    path("", include(client_urls)),
    path("<slug:client>/", include(intake_urls)),
    path("<slug:client>/flags/", include(flag_urls)),
    path("<slug:client>/goals/", include(goal_urls)),
    path("<slug:client>/care/", include(care_urls)),
    path("<slug:client>/measures/", include(measure_urls)),
]
