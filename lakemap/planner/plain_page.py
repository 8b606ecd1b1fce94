"""The plain page where there is no other to show: what is wrong, and what to do."""

from html import escape

_STYLE = """\
body { margin: 0; padding: 0 12px; background: #f2f1ec; }
body { font: 400 16px/1.5 system-ui, sans-serif; color: #12232e; }
main { max-width: 34em; margin: 12vh auto; padding: 20px; background: #fff; border-radius: 10px; }
h1 { margin: 0 0 12px; font-size: 20px; }
p { margin: 0 0 12px; }
"""
WAY_IN = (
    "To get in: in the terminal where lakemap plan runs, press Ctrl-C, start it again, and use the"
    " window that opens or the address that it prints. Save first what another window still holds."
)


def plain_page(*lines: str) -> str:
    """Return a page with a message.

    Parameters
    ----------
    *lines : str
        For people, a paragraph each.

    Returns
    -------
    str
        HTML.
    """
    text = "".join(f"<p>{escape(line)}</p>" for line in lines)
    return (
        '<!DOCTYPE html><html lang="en"><head><meta charset="utf-8">'
        '<meta name="viewport" content="width=device-width, initial-scale=1">'
        '<title>lakemap planner</title><link rel="icon" href="data:,">'
        f"<style>{_STYLE}</style></head>"
        f"<body><main><h1>The planner of lakemap</h1>{text}</main></body></html>"
    )
