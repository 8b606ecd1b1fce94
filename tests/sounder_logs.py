"""Logs made up for tests: sentences with their sums, a boat that runs east."""

from functools import reduce
from operator import xor

LAT, LON = 41.005, -37.005


def sentence(body):
    """With its sum; `test_nmea_sentences` holds such sums against published ones."""
    return f"${body}*{reduce(xor, body.encode('ascii')):02X}\r\n"


def _place(lat, lon):
    north, east = abs(lat), abs(lon)
    return (
        f"{int(north):02d}{(north % 1) * 60:010.7f},{'N' if lat >= 0 else 'S'},"
        f"{int(east):03d}{(east % 1) * 60:010.7f},{'E' if lon >= 0 else 'W'}"
    )


def clock(seconds):
    return f"{int(seconds // 3600) % 24:02d}{int(seconds // 60) % 60:02d}{seconds % 60:05.2f}"


def gga(seconds, lat=LAT, lon=LON, *, quality=1):
    return sentence(f"GPGGA,{clock(seconds)},{_place(lat, lon)},{quality},08,1.0,9.2,M,-37.6,M,,")


def rmc(seconds, lat=LAT, lon=LON, *, day="140625", status="A"):
    return sentence(f"GPRMC,{clock(seconds)},{status},{_place(lat, lon)},4.0,90.0,{day},,,A")


def dpt(depth, offset=""):
    return sentence(f"SDDPT,{depth},{offset}")


def dbt(metres, kind="DBT"):
    feet, fathoms = metres / 0.3048, metres / 1.8288
    return sentence(f"SD{kind},{feet:.3f},f,{metres:.4f},M,{fathoms:.3f},F")
