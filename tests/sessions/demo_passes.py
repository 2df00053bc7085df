"""The demo's passes. Its tests run with those of test_demo, which lays it once and takes these in.

The sums are worked out here again from the rows alone, without the code that keeps the ledgers.
"""

from collections import Counter, defaultdict

from sessions.demo.bought import HABITS
from sessions.models import Attendance, Pass, PassEntry
from tests.sessions.demo_variety import NOW

USES = {"done", "cancelled_late", "no_show"}


class TestPasses:
    def test_ledgers_sum(self, demo):
        """Every line's balance is the sum of the lines so far, and none is ever below nought."""
        ledgers = defaultdict(list)
        for sold, number, delta, left in PassEntry.objects.values_list("of", "number", "delta", "left"):
            ledgers[sold].append((number, delta, left))
        assert len(ledgers) == Pass.objects.count() > 60
        for lines in ledgers.values():
            balance = 0
            assert [number for number, _d, _l in sorted(lines)] == list(range(1, len(lines) + 1))
            for _number, delta, left in sorted(lines):
                balance += delta
                assert balance == left >= 0

    def test_what_used_a_session_used_exactly_one(self, demo):
        """Of a client with a pass: done, late and no-show took one each, everything else none."""
        open_uses = Counter()
        for attendance, delta in PassEntry.objects.exclude(attendance=None).values_list(
            "attendance", "delta"
        ):
            open_uses[attendance] -= delta
        with_pass = {demo.clients[key].pk for key in HABITS}
        rows = Attendance.objects.select_related("booking").filter(client__in=with_pass)
        unpaid = []
        for row in rows:
            uses = open_uses.pop(row.pk, 0)
            if row.state in USES and uses == 0:
                unpaid.append(row)
            else:
                assert uses == (row.state in USES)
        assert set(open_uses.values()) <= {0}
        # The one whose pass is used up and who has not bought the next: this week's is to pay.
        assert {row.client_id for row in unpaid} <= {demo.clients["dov"].pk}
        assert all(row.booking.wall_day >= demo.monday for row in unpaid)

    def test_sessions_lie_within_the_days_of_their_pass(self, demo):
        rows = PassEntry.objects.filter(kind="used").select_related("of", "attendance__booking")
        for row in rows:
            day = row.attendance.booking.wall_day
            assert row.of.client_id == row.attendance.client_id
            assert row.of.bought_on <= day and (row.of.last_day is None or day <= row.of.last_day)

    def test_lines_are_written_in_order_and_none_ahead_of_time(self, demo):
        last = {}
        for row in PassEntry.objects.order_by("of", "number"):
            assert last.get(row.of_id, row.at) <= row.at <= NOW
            last[row.of_id] = row.at

    def test_what_is_to_be_seen(self, demo):
        """Renewals, one running out, one with none left, one that ended with sessions unused, a client without."""
        passes = list(Pass.objects.with_left())
        per_client = Counter(row.client_id for row in passes)
        assert sum(count > 2 for count in per_client.values()) > 10
        assert set(per_client) == {demo.clients[key].pk for key in HABITS}
        today = NOW.date()
        running = [row for row in passes if row.left and (row.last_day is None or row.last_day >= today)]
        left = Counter()
        for row in running:
            left[row.client_id] += row.left
        assert 1 in left.values()
        assert demo.clients["dov"].pk in set(per_client) - set(left)
        assert any(row.left and row.last_day and row.last_day < today for row in passes)
        assert {"bought", "used", "given_back", "corrected"} == set(
            PassEntry.objects.values_list("kind", flat=True)
        )
