"""Drawing a paper: what the plan wants, no exhibit twice, the same for the same seed."""

from __future__ import annotations

from itertools import combinations, product

import networkx
import pytest
from hypothesis import given
from hypothesis import strategies as st

from assessments.lots import Ticket, another, draw, order_for


def ticket(item, *rows, shows=()):
    return Ticket(item, frozenset(rows), frozenset(shows))


def test_each_row_gets_what_it_wants_and_the_seed_gives_the_same_again():
    tickets = [ticket(n, 0, shows=[n]) for n in range(10)] + [ticket(n, 1, shows=[n]) for n in range(10, 20)]
    first, again, other = (draw([3, 2], tickets, seed) for seed in (5, 5, 6))
    assert sorted(row for _item, row in first.chosen) == [0, 0, 0, 1, 1]
    assert first.short == (0, 0)
    assert first == again
    assert first != draw([3, 2], tickets[::-1], 7)
    assert first == draw([3, 2], tickets[::-1], 5), "The order in which items are read tells nothing."
    assert {item for item, _row in first.chosen} != {item for item, _row in other.chosen}


def test_every_item_can_be_drawn_and_stand_anywhere():
    tickets = [ticket(n, 0) for n in range(6)]
    draws = [draw([3], tickets, seed).chosen for seed in range(200)]
    assert {item for chosen in draws for item, _row in chosen} == set(range(6))
    assert {chosen[0][0] for chosen in draws} == set(range(6))


def test_an_item_of_two_sections_goes_where_it_is_needed():
    tickets = [ticket(1, 0, 1), ticket(2, 0)]
    for seed in range(20):
        assert draw([1, 1], tickets, seed).short == (0, 0)


def test_what_the_bank_lacks_is_said_by_row():
    tickets = [ticket(1, 0), ticket(2, 0), ticket(3, 1)]
    found = draw([1, 3, 2], tickets, 0)
    assert found.short == (0, 2, 2)
    assert len(found.chosen) == 2


def test_no_exhibit_is_shown_twice():
    tickets = [ticket(1, 0, shows=[7]), ticket(2, 1, shows=[7]), ticket(3, 1, shows=[8])]
    for seed in range(20):
        assert sorted(draw([1, 1], tickets, seed).chosen) == [(1, 0), (3, 1)]
    assert sum(draw([2, 2], tickets, 0).short) == 2


def test_items_of_several_exhibits_do_not_overlap_either():
    tickets = [ticket(1, 0, shows=[1, 2, 3]), ticket(2, 1, shows=[2]), ticket(3, 1, shows=[4])]
    for seed in range(20):
        assert sorted(draw([1, 1], tickets, seed).chosen) == [(1, 0), (3, 1)]


@given(
    st.lists(st.integers(0, 3), min_size=1, max_size=4),
    st.lists(st.tuples(st.sets(st.integers(0, 3)), st.integers(0, 5)), max_size=10),
    st.integers(0, 1000),
)
def test_a_draw_fills_as_many_places_as_any_could(wanted, bank, seed):
    """Against the maximum matching of networkx (Hopcroft and Karp), places of the plan with exhibits."""
    tickets = [ticket(n, *rows, shows=[exhibit]) for n, (rows, exhibit) in enumerate(bank)]
    places = [(row, n) for row, want in enumerate(wanted) for n in range(want)]
    graph = networkx.Graph()
    graph.add_nodes_from(("place", place) for place in places)
    graph.add_edges_from(
        (("place", place), ("exhibit", exhibit))
        for place, each in product(places, tickets)
        for exhibit in each.exhibits
        if place[0] in each.rows
    )
    most = networkx.bipartite.maximum_matching(graph, [("place", place) for place in places])
    found = draw(wanted, tickets, seed)
    known = {each.item: each for each in tickets}
    assert len(found.chosen) == len(most) // 2
    assert sum(found.short) == len(places) - len(found.chosen)
    assert all(row in known[item].rows for item, row in found.chosen)
    for (one, _row), (other, _other) in combinations(found.chosen, 2):
        assert not known[one].exhibits & known[other].exhibits


def test_a_swap_gives_another_that_fits_and_comes_round_to_the_first():
    tickets = [ticket(n, 0, shows=[n]) for n in range(4)] + [ticket(9, 0, shows=[3]), ticket(8, 1)]
    out = [0]
    seen = []
    for _ in range(4):
        found = another(0, tickets, drawn=[3], out=out, seed=1)
        seen.append(found)
        out = [item for item in out if item != found] + [found]
    assert sorted(seen[:2]) == [1, 2]
    assert seen[2] == 0
    assert another(1, tickets, drawn=[8], out=[], seed=1) is None


def test_candidates_have_the_same_items_in_orders_of_their_own():
    items = list(range(12))
    orders = [order_for(items, 4, number) for number in (101, 102, 101)]
    assert orders[0] == orders[2] != orders[1]
    assert [sorted(order) for order in orders] == [items] * 3


@pytest.mark.parametrize("wanted", [[], [0, 0]])
def test_nothing_wanted_draws_nothing(wanted):
    assert draw(wanted, [ticket(1, 0)], 0).chosen == ()
