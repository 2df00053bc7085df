"""The graph of easier and harder exercises, against networkx, a general library of graphs."""

import networkx as nx
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from library import progressions, tables

EXERCISES = tables.exercises()
STUDIO = ("reformer", "trapeze_table", "chair", "ladder_barrel", "arc")
LEVELS = ("foundation", "building", "advanced")
IDS = tuple("abcdefgh")


def one(progression_of=(), regression_to=(), level="building", apparatus="mat"):
    return {
        "progression_of": list(progression_of),
        "regression_to": list(regression_to),
        "level": level,
        "apparatus": apparatus,
    }


@st.composite
def shelves(draw):
    """A small library with any arrows at all, some of them to exercises that are not there."""
    some = st.lists(st.sampled_from((*IDS, "gone")), max_size=3)
    return {
        key: one(
            draw(some), draw(some), draw(st.sampled_from(LEVELS)), draw(st.sampled_from(("mat", "chair")))
        )
        for key in IDS[: draw(st.integers(1, len(IDS)))]
    }


def graph_of(facts):
    """The same arrows as a graph of networkx, built from the fields and not through the module."""
    graph = nx.DiGraph()
    graph.add_nodes_from(facts)
    for key, row in facts.items():
        for other in (*row["progression_of"], *row["regression_to"]):
            if other in facts:
                graph.add_edge(key, other)
    return graph


def grounds_of(facts):
    return {
        key for key, row in facts.items() if row["level"] == "foundation" and row["apparatus"] not in STUDIO
    }


def check_circles(facts):
    graph = graph_of(facts)
    on_a_circle = {
        key
        for part in nx.strongly_connected_components(graph)
        for key in part
        if len(part) > 1 or graph.has_edge(key, key)
    }
    found = progressions.circles(facts)
    assert {key for circle in found for key in circle} == on_a_circle
    for circle in found:
        assert nx.is_simple_path(graph, circle)
        assert graph.has_edge(circle[-1], circle[0])
        shortest = min(
            nx.shortest_path_length(graph, other, circle[0])
            for other in graph[circle[0]]
            if nx.has_path(graph, other, circle[0])
        )
        assert len(circle) == shortest + 1


def check_ways(facts):
    graph, grounds = graph_of(facts), grounds_of(facts)
    ways = progressions.ways_down(facts, STUDIO)
    far = nx.multi_source_dijkstra_path_length(graph.reverse(), grounds) if grounds else {}
    assert {key: len(way) - 1 for key, way in ways.items()} == far
    for key, way in ways.items():
        assert way[0] == key
        assert way[-1] in grounds
        assert nx.is_simple_path(graph, way)


@given(shelves())
@settings(max_examples=200, deadline=None)
def test_circles_and_ways_down_are_those_of_networkx(facts):
    check_circles(facts)
    check_ways(facts)


@given(shelves())
@settings(max_examples=50, deadline=None)
def test_one_step_down_and_up_are_the_arrows_of_networkx(facts):
    graph = graph_of(facts)
    up = nx.DiGraph((key, other) for key, row in facts.items() for other in row["progression_of"])
    for key in facts:
        assert set(progressions.easier(key, facts)) == set(graph.successors(key))
        assert set(progressions.harder(key, facts)) == (set(up.predecessors(key)) if key in up else set())
        assert len(set(progressions.easier(key, facts))) == len(progressions.easier(key, facts))


def test_the_shipped_library_has_no_circle():
    assert nx.is_directed_acyclic_graph(graph_of(EXERCISES))
    assert progressions.circles(EXERCISES) == []


def test_every_shipped_exercise_has_a_way_down_without_studio_apparatus():
    assert set(progressions.ways_down(EXERCISES, STUDIO)) == set(EXERCISES)
    check_ways(EXERCISES)


def test_no_way_down_climbs_a_level():
    for way in progressions.ways_down(EXERCISES, STUDIO).values():
        levels = [LEVELS.index(EXERCISES[key]["level"]) for key in way]
        assert levels == sorted(levels, reverse=True), way


# The ladder the catalogue gives as its example: nod, chest lift, then the hundred in three steps.
LADDER = ("mat_head_nod", "mat_chest_lift", "mat_hundred_prep", "mat_hundred_tabletop", "mat_hundred")


@pytest.mark.parametrize(("below", "above"), list(zip(LADDER, LADDER[1:], strict=False)))
def test_the_ladder_of_the_hundred(below, above):
    assert below in progressions.easier(above, EXERCISES)
    assert above in progressions.harder(below, EXERCISES)


def test_falling_back_is_no_step_up():
    facts = {"chair": one(), "plank": one(regression_to=["chair"]), "jump": one(progression_of=["chair"])}
    assert progressions.harder("chair", facts) == ("jump",)
    assert progressions.easier("plank", facts) == ("chair",)


def test_what_is_grown_from_comes_before_what_is_fallen_back_on():
    facts = {"a": one(), "b": one(), "c": one(progression_of=["b"], regression_to=["a", "b"])}
    assert progressions.easier("c", facts) == ("b", "a")
