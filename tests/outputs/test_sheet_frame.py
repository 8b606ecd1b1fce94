"""How a page goes on paper: the largest letters that fit, else parted, and nothing left out."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from sheet_samples import figure, long_steps, page

from lakemap.outputs.sheets.blocks import (
    Beside,
    Cautions,
    Field,
    Fields,
    Figure,
    Heading,
    Para,
    Rows,
    Steps,
    Table,
)
from lakemap.outputs.sheets.heights import block_pt, blocks_pt, strip_pt
from lakemap.outputs.sheets.layout import lay_out, room_pt
from lakemap.outputs.sheets.measures import FITS
from lakemap.outputs.sheets.widths import field_rows, number_em, table_shares, view_size
from lakemap.outputs.typeset import PAPERS

LETTER, A4 = PAPERS["letter"], PAPERS["a4"]


def rows(count):
    return Rows(rows=tuple((f"name {k}", f"value {k}") for k in range(count)))


def table(count, **more):
    return Table(header=("a", "b"), rows=tuple((f"a{k}", f"b{k}") for k in range(count)), **more)


def cautions(count):
    return Cautions(texts=tuple(f"caution {k}" for k in range(count)))


def fields(count):
    return Fields(fields=tuple(Field(label=f"label {k}") for k in range(count)), columns=3)


def items(block):
    match block:
        case Steps():
            return [(block.first + k, step) for k, step in enumerate(block.steps)]
        case Rows() | Table():
            return list(block.rows)
        case Cautions():
            return list(block.texts)
        case Fields():
            return list(block.fields)
        case Beside():
            return [
                one for side in (block.left, block.right) for inner in side for one in items(inner)
            ]
        case _:
            return [block]


def test_letters_are_readable_from_the_first_size_to_the_last():
    assert FITS[0].type_pt == 11
    assert min(fit.type_pt for fit in FITS) == 8
    assert [fit.type_pt for fit in FITS] == sorted((fit.type_pt for fit in FITS), reverse=True)


def test_a_short_page_is_set_in_the_largest_letters_on_one_sheet():
    (part,) = lay_out(page(blocks=(Para(text="a word"),)), LETTER)
    assert part.fit == FITS[0]
    assert part.of == ""
    assert part.name == "float 15"
    assert part.foot == "a footer · float 15 · setting sheet · Square Lake"


@pytest.mark.parametrize("paper", [LETTER, A4])
def test_more_words_take_smaller_letters_until_a_second_sheet_is_taken(paper):
    sizes, counts = [], []
    for count in range(5, 90, 5):
        parts = lay_out(page(blocks=(long_steps(count),)), paper)
        counts.append(len(parts))
        if len(parts) == 1:
            sizes.append(parts[0].fit.type_pt)
    assert sizes == sorted(sizes, reverse=True)
    assert sizes[0] == 11
    assert sizes[-1] < 9
    assert counts == sorted(counts)
    assert counts[-1] > 1


@pytest.mark.parametrize("paper", [LETTER, A4])
@pytest.mark.parametrize("count", [20, 60, 200])
def test_every_sheet_is_full_at_most(paper, count):
    wide, high = room_pt(paper)
    one = page(blocks=(rows(count), table(count, tall=True), cautions(count), fields(count)))
    parts = lay_out(one, paper)
    for part in parts:
        used = blocks_pt(part.blocks, wide, part.fit)
        used += strip_pt(one, wide, part.fit) if part.number == 1 else 0
        assert used <= high


def test_room_is_what_margins_and_footer_leave():
    # letter: 8.5 by 11 in, margins of 30 pt, a footer of 14 pt, 4 pt spare
    assert room_pt(LETTER) == (612 - 60, 792 - 60 - 14 - 4)


blocks = st.one_of(
    st.builds(rows, st.integers(1, 60)),
    st.builds(table, st.integers(1, 60)),
    st.builds(table, st.integers(1, 40), tall=st.sampled_from([True])),
    st.builds(cautions, st.integers(1, 40)),
    st.builds(fields, st.integers(1, 60)),
    st.builds(long_steps, st.integers(1, 40)),
    st.builds(Heading, text=st.just("heading")),
    st.builds(Para, text=st.integers(1, 300).map(lambda count: "word " * count)),
    st.just(figure(caption="seen")),
    st.builds(
        lambda left, right: Beside(left=(figure(), left), right=(right,), share=0.4),
        st.builds(rows, st.integers(1, 90)),
        st.builds(long_steps, st.integers(1, 30)),
    ),
)


@settings(max_examples=40)
@given(st.lists(blocks, min_size=1, max_size=6))
def test_nothing_is_left_out_or_told_twice_or_out_of_order(given_blocks):
    parts = lay_out(page(blocks=given_blocks), LETTER)
    laid = [one for part in parts for block in part.blocks for one in items(block)]
    wanted = [one for block in given_blocks for one in items(block)]
    drawn = [one for one in laid if isinstance(one, Figure)]
    assert [one for one in laid if not isinstance(one, Figure)] == [
        one for one in wanted if not isinstance(one, Figure)
    ]
    assert [one.caption for one in drawn] == [
        one.caption for one in wanted if isinstance(one, Figure)
    ]
    assert [part.number for part in parts] == list(range(1, len(parts) + 1))
    assert all(part.blocks for part in parts)


def test_a_heading_goes_with_what_it_heads():
    begun = 0
    for count in range(14, 44):
        one = page(blocks=(long_steps(count), Heading(text="last"), figure(share=1.0)))
        parts = lay_out(one, LETTER)
        assert not any(isinstance(part.blocks[-1], Heading) for part in parts)
        begun += parts[-1].blocks[0] == Heading(text="last")
    assert begun > 0


def test_steps_go_on_counting_and_sheets_say_which_they_are():
    parts = lay_out(page("Cove", blocks=(long_steps(80),)), LETTER)
    assert [part.of for part in parts] == [
        f"page {k} of {len(parts)}" for k in range(1, len(parts) + 1)
    ]
    assert parts[1].name == f"float Cove, page 2 of {len(parts)}"
    first, second = parts[0].blocks[0], parts[1].blocks[0]
    assert second.first == len(first.steps) + 1


def test_two_columns_higher_than_a_sheet_go_below_one_another_and_drawings_keep_their_width():
    tall = Beside(left=(figure(share=0.8), rows(90)), right=(rows(90),), share=0.5)
    parts = lay_out(page(blocks=(tall,)), LETTER)
    drawn = next(one for part in parts for one in part.blocks if isinstance(one, Figure))
    assert drawn.share == pytest.approx(0.4)


def test_columns_are_as_wide_as_their_words_ask():
    shares = table_shares(
        Table(header=("n", "what"), rows=(("1", "many words " * 9),)), 500, FITS[0]
    )
    assert sum(shares) == pytest.approx(1)
    assert shares[0] < 0.1
    given = Table(header=("a", "b"), rows=(("1", "2"),), widths=(1, 3))
    assert table_shares(given, 500, FITS[0]) == (0.25, 0.75)
    crowded = Table(header=("a" * 60, "b" * 60), rows=())
    assert sum(table_shares(crowded, 100, FITS[0])) == pytest.approx(1)


def test_a_long_name_is_written_smaller():
    sizes = [
        number_em(page(name), 552, FITS[0])
        for name in ("15", "North raft 75", "North cove raft of all")
    ]
    assert sizes[0] > sizes[1] > sizes[2]


def test_wide_fields_have_a_row_to_themselves():
    given = Fields(
        fields=(Field(label="a"), Field(label="b", wide=True), Field(label="c"), Field(label="d"), Field(label="e")),
    )  # fmt: skip
    assert [[one.label for one in row] for row in field_rows(given)] == [
        ["a"],
        ["b"],
        ["c", "d"],
        ["e"],
    ]


def test_what_cannot_be_drawn_is_refused():
    with pytest.raises(ValueError, match="2 heads"):
        Table(header=("a", "b"), rows=(("1",),))
    with pytest.raises(ValueError, match="2 heads"):
        Table(header=("a", "b"), rows=(), widths=(1,))
    with pytest.raises(ValueError, match="no viewBox"):
        view_size(Figure(svg="<svg></svg>", alt=""))


def test_twice_the_rows_are_twice_as_high():
    fit = FITS[0]
    one, two = (block_pt(rows(count), 500, fit) - 0.5 * fit.type_pt for count in (4, 8))
    assert two == pytest.approx(2 * one)
    # a row: a line of 1.22, padding 0.22 above and below and a rule of 0.1, all of the letters
    assert one == pytest.approx(4 * 11 * (1.22 + 0.44 + 0.1))
