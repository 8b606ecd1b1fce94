"""What `lakemap` says of the commands for a field: its map, its check, its rigs, its sites."""

from typing import Final

from lakemap.cli.command_words import FOLDER, JSON, Command, mark, picks, takes

FIELD_COMMANDS: Final = (
    Command(
        name="start",
        brief="make a new field folder with commented files to fill in",
        says="""\
Makes a new field folder with commented files to fill in.
Nothing that exists is overwritten.""",
        examples=(
            "lakemap start my-lake",
            "lakemap start my-lake --lake shore.geojson",
            'lakemap start my-lake --at 44.0123,-72.0456 --size "600 ft"',
        ),
        words=(
            takes("folder", "FOLDER", "the folder to make"),
            takes("--lake", "FILE", "a file with the outline of the lake"),
            takes("--at", "LAT,LON", "the middle of the lake, as phones give it"),
            takes("--size", "LENGTH", "how long the lake is, such as 600 ft"),
        ),
    ),
    Command(
        name="draw",
        brief="read, check and size a field, and write its map as one HTML file or on paper",
        says="""\
Reads, checks and sizes a field, and writes its map as one HTML file that needs no
network; or, by the ending of --out, a picture on paper for a notice board or a
newsletter. Nothing is written into the field's folder.""",
        examples=(
            "lakemap draw data/tamber-lake",
            "lakemap draw data/tamber-lake --out members.html",
            "lakemap draw data/tamber-lake --out board.pdf --paper a3 --landscape",
        ),
        words=(
            FOLDER,
            takes(
                "--out",
                "FILE",
                ".html: write the map here, not to maps/FOLDER.html; .svg, .png, .pdf: a picture",
            ),
            picks(
                "--paper",
                ("letter", "legal", "tabloid", "a5", "a4", "a3", "a2"),
                "size of a picture (letter; a4 where lengths are in metres)",
            ),
            mark("--landscape", "a picture on its long side"),
            takes("--dpi", "N", "dots per inch of a .png (200)", type=int),
            mark("--owners", "put owners, permits and notes into the file"),
        ),
    ),
    Command(
        name="check",
        brief="tell every clearance of every float, the worst first",
        says="""\
Tells every clearance of every float, the worst first. Exit code 1 says that something
is in conflict.""",
        examples=(
            "lakemap check data/tamber-lake",
            "lakemap check data/tamber-lake --json > check.json",
            "lakemap check data/tamber-lake --ways-out",
        ),
        words=(
            FOLDER,
            mark("--ways-out", "the least changes that end each conflict; with --json these alone"),
            JSON,
        ),
    ),
    Command(
        name="size",
        brief="tell each rig's weights, buoyancy and cautions",
        says="""\
Tells what the storm asks of each rig and what the rig gives: pulls, uplift, holding,
the weakest part, and what is not sure. --working shows how each number comes about.""",
        examples=(
            "lakemap size data/tamber-lake",
            "lakemap size data/tamber-lake --float 15 --working",
            "lakemap size data/tamber-lake --float 15 --out float-15.svg",
        ),
        words=(
            FOLDER,
            takes("--float", "ID", "only this float", dest="float_id"),
            mark("--working", "every number: formula, inputs, source, range"),
            takes("--out", "FILE.svg", "write the float's pictures, with --float"),
            JSON,
        ),
    ),
    Command(
        name="rig",
        brief="answer one question: how do I moor this float?",
        says="""\
Tells how to moor one float: what to buy, how to lay it, and what is not sure.
On a terminal it asks for what you leave out.""",
        examples=(
            'lakemap rig --depth "10 ft" --length "10 ft" --width "8 ft" --bottom sand',
            'lakemap rig --depth "10 ft" --length "10 ft" --width "8 ft" --wind "40 mph" --working',
            "lakemap rig --depth 3.2m --length 3m --width 2.5m --out float-12.html",
        ),
        words=(
            takes("--depth", "LENGTH", "depth at the primary, at normal level"),
            takes("--length", "LENGTH", "the deck's longer side"),
            takes("--width", "LENGTH", "the deck's shorter side"),
            takes("--bottom", None, "sand, gravel, silt, mud, clay or rock"),
            takes("--low", "LENGTH", "how far the lake falls below normal (0 ft)"),
            takes("--high", "LENGTH", "how far the lake rises above normal (0 ft)"),
            takes("--tubes", "N", "number of tubes (2)", type=int),
            takes("--tube-diameter", "LENGTH", "of each tube (19 in)"),
            takes("--weight", "WEIGHT", "of the float, dry, such as 900 lb"),
            picks("--hook", ("centre", "edge"), None, default="centre"),
            takes("--people", "N", "aboard at once (4)", default=4, type=int),
            takes("--wind", "SPEED", "10-minute mean of the storm (50 mph)"),
            takes("--gust", "SPEED", "of 3 s (from the wind)"),
            takes("--fetch", "LENGTH", "open water to windward (half a mile, 800 m)"),
            takes("--wake", "LENGTH", "height of a wake 100 ft off (2 ft)"),
            picks(
                "--holding",
                ("practice", "unburied", "buried"),
                "which answer the weights are chosen by (practice)",
                default="practice",
            ),
            picks("--units", ("ft-lb", "m-kg"), "by default as the depth has it"),
            mark("--working", "every number: formula, inputs, source, range"),
            JSON,
            takes("--out", "FILE", ".html: a page to hand to a member; .svg: pictures"),
        ),
    ),
    Command(
        name="sites",
        brief="find where new floats may go, and how many fit",
        says="""\
Finds where new floats may go, the best place first, and how many fit. Without --length
and --width it takes the commonest deck of the field.""",
        examples=(
            'lakemap sites data/tamber-lake --length "10 ft" --width "8 ft"',
            "lakemap sites data/tamber-lake --like 15 --count 5 --out sites.html",
            "lakemap sites data/tamber-lake --at 41.3097,-37.6195",
        ),
        words=(
            FOLDER,
            takes("--length", "LENGTH", "the deck's longer side"),
            takes("--width", "LENGTH", "the deck's shorter side"),
            takes("--like", "ID", "a float like this one"),
            takes("--riser", "LENGTH", "a riser of this length (else designed at each place)"),
            takes("--ground", "LENGTH", "a ground chain of this length (else designed)"),
            takes("--lot", "NAME", "only within this lot's frontage"),
            takes("--count", "N", "sites at most (10)", default=10, type=int),
            takes("--at", "LAT,LON", "why not here: every rule at this place, and its spare"),
            mark("--write", "add the sites to floats.csv as proposed floats"),
            takes("--seed", "N", "where the search for room begins (1)", default=1, type=int),
            JSON,
            takes("--out", "FILE", ".html: the map with the sites; .geojson: a layer"),
        ),
    ),
    Command(
        name="compare",
        brief="tell what changed between two versions of a field, and what that did",
        says="""\
Tells what moved or changed from one version of a field to another, and what that did to
verdicts, spares, circles and pulls.""",
        examples=(
            "lakemap compare tamber-2024 tamber-2025",
            "lakemap compare tamber-2024 tamber-2025 --out changes.html",
        ),
        words=(
            takes("old", "OLD", "the field folder as it was"),
            takes("new", "NEW", "the field folder as it is now"),
            JSON,
            takes("--out", "FILE.html", "write the map of NEW with what changed drawn in"),
            mark("--owners", "tell changed owners, permits and notes too"),
        ),
    ),
    Command(
        name="export",
        brief="write the field as one file for maps, phones and spreadsheets",
        says="""\
Writes the field as one file for other programs; the ending says which kind:
  .gpkg, .geojson  everything, in layers: lake, zones, floats, primaries, secondaries,
                   circles, soundings; SI units
  .kml             the same without soundings, in coloured folders for viewers
  .xlsx            sheets in your units: floats, clearances, sizing, zones
  .csv             the floats alone, as a floats file
  .gpx             primaries and secondaries as waypoints: names and places only
All but .gpx hold every column of every float: named floats.gpkg, floats.kml and so on,
they come in again in a field folder. So do lake and zones of a .gpkg, .geojson or .kml,
and soundings of the first two. Settings and inspections stay in the folder.""",
        examples=(
            "lakemap export data/tamber-lake --to tamber.gpkg",
            "lakemap export data/tamber-lake --to tamber.gpx",
            "lakemap export data/tamber-lake --to board.xlsx --owners",
        ),
        words=(
            FOLDER,
            takes("--to", "FILE", "the file to write", required=True),
            mark("--owners", "put owners, permits, notes and columns of your own into the file"),
        ),
    ),
    Command(
        name="plan",
        brief="move floats about in the browser and see at once what that does",
        says="""\
Opens the planner in the browser, for this machine alone: it moves floats, changes their
rigs and saves. Where the folder has no lake yet, it draws one. Ctrl-C ends it.""",
        examples=("lakemap plan data/tamber-lake",),
        words=(
            takes("folder", "FOLDER", "a field folder, or one that is to be"),
            takes("--port", "N", "listen here (a free port)", type=int),
            mark("--no-open", "only print the address"),
        ),
    ),
)
