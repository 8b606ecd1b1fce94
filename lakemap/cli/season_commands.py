"""What `lakemap` says of a season's commands: gauge, upkeep, sheets, what devices recorded."""

from typing import Final

from lakemap.cli.command_words import FOLDER, JSON, Command, mark, picks, takes

SEASON_COMMANDS: Final = (
    Command(
        name="levels",
        brief="tell what the lake's own gauge readings say, and what low water did",
        says="""\
Tells low, normal and high water by the readings of the field's levels file,
beside those of field.toml, and what the lowest water of each year did to the
circles. Nothing is written.""",
        examples=(
            "lakemap levels data/tamber-lake",
            "lakemap levels data/tamber-lake --since 2020 --low-share 1 --high-share 99",
        ),
        words=(
            FOLDER,
            takes("--since", "DATE", "readings from this day or year on"),
            takes("--until", "DATE", "readings up to this day or year"),
            takes(
                "--low-share",
                "PERCENT",
                "low: the lake stood there or lower for this share of the time (2)",
                default="2",
            ),
            takes(
                "--high-share",
                "PERCENT",
                "high: it stood there or lower for this share (98)",
                default="98",
            ),
            JSON,
        ),
    ),
    Command(
        name="upkeep",
        brief="tell what is worn, due, mismatched and never looked at",
        says="""\
Tells the state of every rig on a day, from set_on, inspections, published rules and
common practice: what is overdue first, what was never looked at, unlike metals,
permits, what the season asks; after a storm, which floats met more than they are
sized for. Or what to buy, with your own prices where the folder has a prices file.""",
        examples=(
            "lakemap upkeep data/tamber-lake",
            "lakemap upkeep data/tamber-lake --float 15 --on 2026-04-20",
            'lakemap upkeep data/tamber-lake --after-storm "45 mph" --from 300',
            "lakemap upkeep data/tamber-lake --calendar season.ics",
            "lakemap upkeep data/tamber-lake --shopping due --out for-the-shop.xlsx",
        ),
        words=(
            FOLDER,
            takes("--float", "ID", "only this float, all its parts", dest="float_id"),
            takes("--on", "DATE", "the day, as 2026-04-20 (today)"),
            takes("--after-storm", "SPEED", "a wind that blew, 10-minute mean"),
            takes("--gust", "SPEED", "its gusts of 3 s (from the wind)"),
            takes("--from", "DEG", "true bearing it blew from (any)", dest="from_deg"),
            takes("--calendar", "FILE.ics", "write what is due as a calendar file, too"),
            picks(
                "--shopping",
                ("all", "due", "new"),
                "tell what to buy instead: for all rigs, for what is due, for proposed floats",
            ),
            takes("--allowance", "LENGTH", "lost on each cut or cable end (ours, see README)"),
            takes("--out", "FILE", "write the shopping list as .csv or .xlsx, too"),
            mark("--owners", "tell texts of permits and who inspected"),
            JSON,
        ),
    ),
    Command(
        name="sheets",
        brief="write setting, inspection, lifting and members' sheets, a page to a float",
        says="""\
Writes a page for each float, to print and take out in the boat: how to set its rig, how
to inspect it, how to lift it, and what its member should know. Without --kind all four.
Nothing is written into the field's folder.""",
        examples=(
            "lakemap sheets data/tamber-lake",
            'lakemap sheets data/tamber-lake --kind setting --level "0.4 ft"',
            "lakemap sheets data/tamber-lake --float 15 --out float-15.pdf",
        ),
        words=(
            FOLDER,
            takes("--float", "ID", "only this float", dest="float_id"),
            picks("--kind", ("setting", "inspection", "lifting", "member"), "only these sheets"),
            takes("--level", "LENGTH", "the lake on its own gauge that day (its normal level)"),
            picks("--paper", ("letter", "a4"), "(letter; a4 where lengths are in metres)"),
            takes(
                "--out",
                "FILE",
                ".html or .pdf: write here, not to sheets/FOLDER-KIND.html; all kinds in one file",
            ),
            mark("--owners", "print owners, permits and notes, each on its own float's sheets"),
        ),
    ),
    Command(
        name="gather",
        brief="bring in soundings, positions and a shore from sounders, phones and loggers",
        says="""\
Merges what devices recorded into a field's folder: soundings (NMEA logs, GPX
with depths, CSV, XLSX, text of x, y and depth), positions, a shore. What is
there stays; the same file twice adds nothing. It tells what was taken, what not
and why, and keeps the version before, as soundings.csv.before. Begin with
--preview.""",
        examples=(
            "lakemap gather my-lake saturday.log --preview",
            'lakemap gather my-lake saturday.log --transducer-depth "1 ft" --level "0.2 ft"',
            'lakemap gather my-lake saturday.log --water-temperature "68 F"',
            "lakemap gather my-lake points.txt --depth-unit m --date 2025-06-14",
            "lakemap gather my-lake phone.gpx --float 15 --position-of primary",
            'lakemap gather my-lake rowed.gpx --as shore --inside "10 ft"',
        ),
        words=(
            FOLDER,
            takes("files", "FILE", "what the devices recorded", nargs="+"),
            mark("--preview", "tell what would be done; write nothing"),
            picks(
                "--as",
                ("soundings", "fixes", "shore"),
                "what the files are (else by what stands in them)",
                dest="kind",
            ),
            takes("--date", "DATE", "the day, where a file names none"),
            JSON,
            takes(
                "--transducer-depth",
                "LENGTH",
                "how far below the surface the sounder hangs (for depths below the keel: the keel)",
                group="soundings",
            ),
            takes(
                "--water-temperature",
                "TEMP",
                "corrects the speed of sound, as 68 F",
                group="soundings",
            ),
            takes(
                "--sound-speed",
                "SPEED",
                "of sound in this water, instead of its temperature",
                group="soundings",
            ),
            takes(
                "--sounder-speed",
                "SPEED",
                "of sound that the sounder reckoned with (1500 m/s)",
                group="soundings",
            ),
            picks(
                "--depth-unit",
                ("ft", "m"),
                "of the depths, where a file names none",
                group="soundings",
            ),
            takes(
                "--level",
                "LENGTH",
                "the lake on its own gauge then (else by the levels file)",
                group="soundings",
            ),
            takes(
                "--every",
                "LENGTH",
                "keep one sounding in each square (10 ft); 0 keeps all",
                group="soundings",
            ),
            mark(
                "--keep-outliers",
                "keep soundings that lie far from those around them",
                group="soundings",
            ),
            takes("--float", "ID", "the float they are of", dest="float_id", group="positions"),
            picks(
                "--position-of",
                ("primary", "secondary", "float"),
                "what was fixed",
                group="positions",
            ),
            takes(
                "--wind-from", "DEG", "where the wind came from, a true bearing", group="positions"
            ),
            mark("--place", "put the estimated primaries into the floats file", group="positions"),
            takes(
                "--inside",
                "LENGTH",
                "how far from the shore, on the water, the track was kept",
                group="shore",
            ),
        ),
    ),
)
