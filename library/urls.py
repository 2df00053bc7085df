"""Addresses of the library. It knows no client, so no address here speaks of one."""

from django.urls import path

from library.views import apparatus, conditions, maps, own, own_figure, reading, rules, sets, upgrades

app_name = "library"
urlpatterns = [
    path("", reading.exercise_list, name="list"),
    path("apparatus/", apparatus.apparatus, name="apparatus"),
    path("apparatus/units/new/", apparatus.new_unit, name="unit_new"),
    path("apparatus/units/<slug:unit>/", apparatus.unit, name="unit"),
    path("apparatus/springs/new/", apparatus.new_spring, name="spring_new"),
    path("apparatus/springs/<slug:spring>/", apparatus.spring, name="spring"),
    path("rules/", rules.rules, name="rules"),
    path("rules/new/", rules.rule_new, name="rule_new"),
    path("rules/<slug:rule>/end/", rules.rule_end, name="rule_end"),
    path("rules/reviews/new/", rules.review_new, name="review_new"),
    path("rules/reviews/<slug:review>/withdraw/", rules.review_withdraw, name="review_withdraw"),
    path("conditions/", conditions.condition_list, name="conditions"),
    path("conditions/<slug:condition>/", conditions.condition, name="condition"),
    path("ideas/", maps.ideas, name="transfers"),
    path("ideas/<slug:family>/", maps.idea, name="transfer"),
    path("skills/<slug:skill>/", maps.skill_map, name="map_skill"),
    path("<slug:exercise>/map/", maps.exercise_map, name="map"),
    path("own/", own.own, name="own"),
    path("own/new/", own.own_new, name="own_new"),
    path("own/drafts/<slug:draft>/", own.own_look, name="own_look"),
    path("own/drafts/<slug:draft>/drop/", own.own_drop, name="own_drop"),
    path("own/drafts/<slug:draft>/figure/", own_figure.own_figure, name="own_figure"),
    path("own/drafts/<slug:draft>/<slug:step>/", own.own_step, name="own_step"),
    path("changed/", upgrades.changed, name="changed"),
    path("changed/<slug:exercise>/", upgrades.settle, name="settle"),
    path("sets/", sets.sets, name="sets"),
    path("sets/export/", sets.set_export, name="set_export"),
    path("sets/offer/", sets.set_offer, name="set_offer"),
    path("sets/<slug:offered>/", sets.set_look, name="set"),
    path("<slug:exercise>/change/", own.own_change, name="own_change"),
    path("<slug:exercise>/", reading.exercise_page, name="exercise"),
]
