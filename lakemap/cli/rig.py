"""`lakemap rig` answers one question: how do I moor this float."""

import argparse


def run_rig(asked: argparse.Namespace) -> int:
    """Answer for one float, asking back on a terminal."""
    raise NotImplementedError(asked)
