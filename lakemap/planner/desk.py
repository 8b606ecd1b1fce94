"""What the planner page asks, answered: the one place that knows folder, plan and engine."""

from collections import OrderedDict
from collections.abc import Callable, Mapping
from pathlib import Path
from typing import Any, Final

from lakemap.basis.errors import BadInputError, Problem
from lakemap.planner.comparison import compare_answer
from lakemap.planner.ground import Ground
from lakemap.planner.page import plan_html
from lakemap.planner.page_start import plan_block
from lakemap.planner.places import Places
from lakemap.planner.plan_answer import plan_answer
from lakemap.planner.reading import Reading
from lakemap.planner.save_answer import save_answer
from lakemap.planner.weather_answer import lie_answer
from lakemap.planner.why_answer import why_answer

_READINGS: Final = 4  # kept: pages that are open may rest on older ones
_GROUND: Final = "ground-"


class Desk:
    """Answers for one folder.

    It keeps readings of the folder and plans that were asked for, so that the next answer is
    quick; a page that knows its changes can be answered by any desk of that folder.

    Parameters
    ----------
    folder : Path
        Of a field, or where one is to be.
    """

    def __init__(self, folder: Path) -> None:
        self._folder = folder
        self._readings: OrderedDict[str, Reading] = OrderedDict()
        self._ground = Ground(folder)
        self._places = Places(folder)
        self._asks: dict[str, Callable[[Reading, Mapping[str, Any]], dict[str, Any]]] = {
            "plan": plan_answer,
            "lie": lie_answer,
            "why": why_answer,
            "sites": self._places.answer,
            "compare": compare_answer,
            "save": self._save,
        }

    @property
    def lacks_lake(self) -> bool:
        """True where the folder has no lake yet, so that it has to be drawn first."""
        return self._ground.lacks_lake

    def page(self, name: str) -> str:
        """Return a page, with the folder as it is now.

        Parameters
        ----------
        name : str
            "" for the planner, "ground" for the lake and its zones.

        Returns
        -------
        str
            HTML.

        Raises
        ------
        BadInputError
            If the folder can't be read.
        """
        if name == "ground" or self.lacks_lake:
            return self._ground.page()
        reading = self._read()
        return plan_html(reading.saved.assessment, plan_block(reading))

    def answer(self, name: str, body: Mapping[str, Any]) -> dict[str, Any]:
        """Return the answer to an ask of a page.

        Parameters
        ----------
        name : str
            Of the ask.
        body : mapping
            As the page sent it.

        Returns
        -------
        dict
            JSON-able.

        Raises
        ------
        BadInputError
            If the ask is not known, its body is not what it should be, or it can't be done.
        """
        if name.startswith(_GROUND):
            return self._ground.answer(name, body)
        if name not in self._asks:
            text = f"nothing here answers {name!r}"
            raise BadInputError([Problem(code="unknown_ask", text=text)])
        return self._asks[name](self._of(body), body)

    def close(self) -> None:
        """End what works in the background."""
        self._places.close()

    def _read(self) -> Reading:
        reading = Reading.of(self._folder)
        return self._readings.setdefault(reading.key, reading)

    def _of(self, body: Mapping[str, Any]) -> Reading:
        """The reading that a page rests on; without one, the latest."""
        known = self._readings.get(str(body.get("stamp")))
        if known is None:
            known = next(reversed(self._readings.values()), None) or self._read()
        self._readings.move_to_end(known.key)
        while len(self._readings) > _READINGS:
            self._readings.popitem(last=False)
        return known

    def _save(self, reading: Reading, body: Mapping[str, Any]) -> dict[str, Any]:
        answer = save_answer(reading, body)
        if answer["saved"]:
            answer["stamp"] = self._read().key
        return answer
