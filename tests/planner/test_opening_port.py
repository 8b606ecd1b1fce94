"""The port of a folder's planner: the same each time, unless somebody else has it."""

import socket

from lakemap.planner.opening import usual_port
from lakemap.planner.server import PlanServer


class Nobody:
    def page(self, _name):
        return ""

    def answer(self, _name, _body):
        return {}

    def close(self):
        pass


def port_of(server):
    return int(server.address.split("/")[2].split(":")[1])


def test_a_folder_has_its_own_port_and_another_has_another(tmp_path):
    ports = {usual_port(tmp_path / name) for name in "abcdefgh"}
    assert len(ports) == 8
    assert all(49_152 <= port <= 65_535 for port in ports)
    assert usual_port(tmp_path / "x" / ".." / "a") == usual_port(tmp_path / "a")


def test_the_usual_port_is_taken_and_any_other_where_it_is_not_free(tmp_path):
    usual = usual_port(tmp_path)
    first = PlanServer(Nobody(), usual=usual)
    second = PlanServer(Nobody(), usual=usual)
    assert port_of(first) == usual
    assert port_of(second) != usual
    for server in (first, second):
        server.stop()
        server.run()
    with socket.create_server(("127.0.0.1", usual)):
        pass
