"""Reads the pages of sheets: their whole text, their steps, a frame by its title."""

from lakemap.outputs.sheets.blocks import (
    Beside,
    Cautions,
    Fields,
    Figure,
    Heading,
    Para,
    Rows,
    Steps,
    Table,
)


def blocks_of(page):
    """Every block of a page, those of two columns one after the other."""

    def walk(blocks):
        for block in blocks:
            if isinstance(block, Beside):
                yield from walk((*block.left, *block.right))
            else:
                yield block

    return list(walk(page.blocks))


def _lines(block):
    said = {
        Heading: lambda: [block.text],
        Para: lambda: [block.text],
        Steps: lambda: block.steps,
        Rows: lambda: [text for row in block.rows for text in row],
        Table: lambda: [*block.header, *(cell for row in block.rows for cell in row)],
        Figure: lambda: [block.svg, block.alt, block.caption],
        Fields: lambda: [text for one in block.fields for text in _field(one)],
        Cautions: lambda: [block.title, *block.texts],
    }
    return said[type(block)]()


def _field(one):
    return (one.label, one.unit, one.value, *one.choices)


def told(page):
    """All that a page says, a line each, drawings too."""
    lines = [page.title, *page.under, page.lake, *page.facts, page.footer]
    return "\n".join([*lines, *(line for block in blocks_of(page) for line in _lines(block))])


def steps_of(page):
    """The steps of a page."""
    return next(block.steps for block in blocks_of(page) if isinstance(block, Steps))


def tables_of(page):
    """The tables of a page."""
    return [block for block in blocks_of(page) if isinstance(block, Table)]


def rows_of(page):
    """Values by their names."""
    return {
        name: value
        for block in blocks_of(page)
        if isinstance(block, Rows)
        for name, value in block.rows
    }


def box_titled(page, title):
    """What a frame says; empty where there is none."""
    return "\n".join(
        text
        for block in blocks_of(page)
        if isinstance(block, Cautions) and block.title == title
        for text in block.texts
    )
