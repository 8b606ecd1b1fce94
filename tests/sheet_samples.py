"""Pages of sheets made by hand: every block, hostile words, and as long as a test wants them."""

from lakemap.outputs.sheets.blocks import (
    TICK,
    Beside,
    Cautions,
    Field,
    Fields,
    Figure,
    Heading,
    Para,
    Rows,
    SheetPage,
    Steps,
    Table,
)

HOSTILE = (
    '#import "x": *',
    "$x^2$ *bold* _it_ `raw` // no /* no */",
    "\\ \\n \\u{41} #{1 + 1} #panic()",
    "<script>document.title='run'</script>",
    '"><img src=x onerror=alert(1)> </style></section>',
    "[x] @ref ~ -- <label> 'q' \"q\" & &amp;",
)
SVG = (
    '<svg viewBox="0 0 400 200" font-family="system-ui, sans-serif"><rect width="400" height="200"'
    ' fill="#E4F1F2"/><text x="20" y="40" font-size="14">drawn words</text></svg>'
)


def figure(**more):
    return Figure(svg=SVG, alt="A drawing", **more)


def every_block(words="some words"):
    """One of each kind of block, each holding the words."""
    return (
        Beside(
            left=(figure(caption=f"caption {words}", share=0.938),),
            right=(
                Heading(text=f"heading {words}"),
                Rows(rows=((f"name {words}", f"value {words}"),)),
            ),
            share=0.567,
        ),
        Cautions(title=f"care {words}", texts=(f"caution {words}", f"second {words}")),
        Steps(steps=(f"first step {words}", f"step with {TICK} a box {words}")),
        Table(
            header=("part", f"head {words}"), rows=((f"cell {words}", ""), ("b", "c")), tall=True
        ),
        Table(header=("a", "b", "c", "d"), rows=((words, "2", "3", "4"),)),
        Para(text=f"plain {words}"),
        Para(text=f"quiet {words}", look="quiet"),
        Para(text=f"strong {words}", look="strong"),
        Fields(
            fields=(
                Field(label=f"label {words}", unit="ft", value=f"known {words}"),
                Field(label="bed", choices=(f"sand {words}", "silt")),
                Field(label=f"notes {words}", lines=3, wide=True),
            ),
            columns=3,
        ),
    )


def page(float_id="15", blocks=None, **more):
    given = {
        "kind": "setting",
        "float_id": float_id,
        "title": "Setting sheet",
        "under": ("lot 23 · 12 × 10 ft",),
        "lake": "Square Lake",
        "facts": ("lake at 0 ft on its gauge", "data of 3 August 2025"),
        "blocks": every_block() if blocks is None else tuple(blocks),
        "footer": "a footer",
    }
    return SheetPage(**given | more)


def long_steps(count, words=30):
    return Steps(steps=tuple(f"step {k} {'word ' * words}".strip() for k in range(1, count + 1)))
