"""The one thread behind the planner: order, what gets stale, what is too much, what is free."""

import json
import socket
import threading
import time

import pytest
from served import PATIENCE_S, Desk, Served

from lakemap.planner.server import PlanServer
from lakemap.planner.worker import Worker


class Asker:
    """Asks that wait for their answers, each in a thread."""

    def __init__(self, served, monkeypatch):
        self.served, self.answers, self.threads, self.came = served, {}, [], 0
        do = Worker.do

        async def counted(worker, *args, **more):
            self.came += 1
            return await do(worker, *args, **more)

        monkeypatch.setattr(Worker, "do", counted)

    def ask(self, key, name, body):
        """Send one, and come back when the server has it in its queue."""

        def wait():
            self.answers[key] = self.served.ask(name, body)

        before = self.came
        thread = threading.Thread(target=wait)
        thread.start()
        self.threads.append(thread)
        until(lambda: self.came > before)

    def all(self):
        self.served.desk.gate.set()
        for thread in self.threads:
            thread.join(PATIENCE_S)
        return {key: (status, json.loads(body)) for key, (status, _, body) in self.answers.items()}


def until(is_so):
    end = time.monotonic() + PATIENCE_S
    while not is_so():
        assert time.monotonic() < end
        time.sleep(0.002)


@pytest.fixture
def held(monkeypatch):
    """A planner whose desk is at a slow answer, and one who asks it."""
    with Served(waiting=4) as served:
        served.open()
        asker = Asker(served, monkeypatch)
        asker.ask("slow", "slow", {})
        assert served.desk.entered.wait(PATIENCE_S)
        yield asker


def names(asker):
    return [name for name, _ in asker.served.desk.asked]


def drag(number, page="p", **more):
    return {"page": page, "seq": number, **more}


def test_one_after_the_other_in_one_thread(held):
    for k in range(4):
        held.ask(k, f"ask-{'abcd'[k]}", {"k": k})
    answers = held.all()
    assert [answers[k] for k in range(4)] == [(200, {"name": f"ask-{'abcd'[k]}", "got": {"k": k}}) for k in range(4)]  # fmt: skip
    assert names(held) == ["slow", "ask-a", "ask-b", "ask-c", "ask-d"]
    assert len(held.served.desk.threads) == 1


def test_a_drag_never_lags(held):
    held.ask("first", "plan", drag(1, x=1))
    held.ask("save", "save", {})
    for number in range(2, 30):
        held.ask(number, "plan", drag(number, x=number))
    answers = held.all()
    stale = (200, {"stale": True})
    assert answers.pop("first") == stale
    assert all(answers.pop(number) == stale for number in range(2, 29))
    assert answers.pop(29) == (200, {"name": "plan", "got": {"x": 29}})
    assert answers.pop("save")[0] == 200
    # the last one has the first one's place, before what was asked after it
    assert held.served.desk.asked == [("slow", {}), ("plan", {"x": 29}), ("save", {})]


def test_what_is_not_made_stale(held):
    held.ask("p", "plan", drag(5))
    held.ask("lie", "lie", drag(6))  # another question
    held.ask("q", "plan", drag(7, page="q"))  # another window
    held.ask("bare", "plan", {})  # says no turn
    answers = held.all()
    assert [answers[key][1]["name"] for key in ("p", "lie", "q", "bare")] == ["plan", "lie", "plan", "plan"]  # fmt: skip


def test_other_asks_are_all_answered(held):
    for number in range(4):
        held.ask(number, "save", drag(number))
    assert all("stale" not in answer for _, answer in held.all().values())
    assert names(held).count("save") == 4


def test_an_ask_that_comes_after_a_later_one_is_stale_at_once(held):
    held.ask("late", "lie", drag(9))
    assert json.loads(held.served.ask("lie", drag(8))[2]) == {"stale": True}
    held.all()
    assert names(held) == ["slow", "lie"]
    # a window that begins to count anew is heard
    assert json.loads(held.served.ask("lie", drag(1))[2]) == {"name": "lie", "got": {}}


def test_too_many_wait(held):
    for k in range(4):
        held.ask(k, "why", {})
    status, headers, body = held.served.ask("why", {})
    assert (status, headers["retry-after"]) == (503, "1")
    assert "too many asks wait; nothing was saved" in body
    held.all()
    assert held.served.ask("why", {})[0] == 200


def test_the_rest_goes_on_while_the_desk_works(held):
    served = held.served
    assert served.get("/x")[0] == 404
    assert served.get("/", cookie=None)[0] == 403
    assert served.ask("plan", "[")[0] == 400
    assert served.desk.closed is False


def test_an_answer_may_take_longer_than_a_header(monkeypatch):
    with Served(header_s=0.1) as served:
        served.open()
        asker = Asker(served, monkeypatch)
        asker.ask("slow", "slow", {})
        time.sleep(0.5)
        assert asker.all()["slow"][0] == 200


def test_what_was_asked_is_finished_at_the_end_and_nothing_more(monkeypatch):
    served = Served()
    served.open()
    asker = Asker(served, monkeypatch)
    with served:
        asker.ask("slow", "slow", {})
        assert served.desk.entered.wait(PATIENCE_S)
        asker.ask("save", "save", {})
        served.server.stop()
        until(lambda: served.told)
        assert served.told == ["finishing what was asked; Ctrl-C once more stops at once"]
        status, _, body = served.ask("plan", {})
        assert (status, "being stopped" in body) == (503, True)
        answers = asker.all()
    assert answers["slow"] == (200, {"name": "slow", "got": {}})
    assert answers["save"] == (200, {"name": "save", "got": {}})
    assert served.desk.closed
    with pytest.raises(ConnectionRefusedError):
        served.get("/")


class LongPageDesk(Desk):
    def page(self, _name):
        return "<p>" + " " * 30_000_000


def test_who_does_not_read_an_answer_does_not_hold_up_the_end():
    with (
        Served(LongPageDesk(), header_s=600, idle_s=600) as served,
        socket.create_connection(("127.0.0.1", served.port), timeout=PATIENCE_S) as line,
    ):
        served.open()
        line.sendall(served.head("GET", "/"))
        assert line.recv(15) == b"HTTP/1.1 200 OK"
        served.server.stop()
        served.thread.join(PATIENCE_S)
        assert not served.thread.is_alive()


def test_stopped_before_it_runs():
    desk = Desk()
    server = PlanServer(desk)
    server.stop()
    server.run()
    assert desk.closed
