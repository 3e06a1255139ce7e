"""Numbers and names that lead to a person or into a home: accounts, files, devices, networks, receipts.

In: nothing. Out: `THINGS`, a table of patterns.
"""

from __future__ import annotations

import re

from sitegen.judge.privacy import Detail

_I = re.IGNORECASE
_HOSTS = (
    r"(?:instagram|facebook|fb|twitter|x|tiktok|linkedin|xing|threads|pinterest|snapchat|vk|reddit|bsky|mastodon)"
    r"\.(?:com|net|me|app|social|org)|t\.me|wa\.me|discord\.gg|discord\.com/users"
)
_MEDIA = (
    "jpe?g|png|heic|heif|mov|mp4|m4v|avi|mkv|mp3|wav|m4a|xlsx?|ods|docx?|pdf|csv|zip|psd|raw|dng|cr2|nef|arw"
)
_SAID = r"[ .:#]*(?:is |ist )?(?=[A-Z-]{0,30}\d)"  # a word between, and a number that follows
_NUMBER = r"(?:no\.?|number|nr\.?|id|code|#|nummer)"


def _is_card(text: str) -> bool:
    """Whether the check digit of a card is right (ISO/IEC 7812-1, annex B), and the digits are not all alike."""
    digits = [int(sign) for sign in text if sign.isdigit()]
    doubled = [digit * 2 - 9 * (digit > 4) for digit in digits[-2::-2]]
    return len(set(digits)) > 1 and (sum(digits[::-2]) + sum(doubled)) % 10 == 0


def _is_handle(text: str) -> bool:
    """Whether it is none of the endings of pictures for dense screens, such as `leaf@2x`."""
    return not text.lower().endswith(("2x", "3x"))


def _is_phone(text: str) -> bool:
    """Whether a number that is written as at home has as many digits as one has; custom, no source."""
    return 9 <= sum(sign.isdigit() for sign in text) <= 13


def _is_machine(text: str) -> bool:
    """Whether each part of an address of the internet fits into a byte (RFC 791)."""
    return all(int(part) < 256 for part in text.split("."))


THINGS = (
    Detail(
        "a profile", "capitals", ("://",), re.compile(rf"\bhttps?://(?:[\w-]+\.)?(?:{_HOSTS})/[\w@.-]+", _I)
    ),
    Detail(
        "the name of an account",
        "text",
        ("@",),
        re.compile(r"(?<![\w./@-])@[A-Za-z][\w]{2,29}(?:@[\w.-]+\.[a-z]{2,})?\b(?![.@/]\w)"),
        _is_handle,
    ),
    Detail("the name of an account", "text", ("u/",), re.compile(r"(?<![\w/])/?u/[A-Za-z]\w{2,20}\b")),
    Detail(
        "a mail address",
        "capitals",
        ("AT)", "AT]", "AT}"),
        re.compile(
            r"\b[\w.+-]+ ?[\[({] ?at ?[\])}] ?[\w-]+ ?(?:\.|[\[({] ?(?:dot|punkt) ?[\])}]) ?[a-z]{2,}", _I
        ),
    ),
    Detail(
        "a telephone number",
        "shape",
        ("00 0", "00/0", "00-0", "00) 0"),
        re.compile(r"(?<![\w.,:/-])\(?0[0-9]{2,4}\)?(?:[ /-][0-9]{2,8}){1,4}(?!\w|[.,:/-]\w)"),
        _is_phone,
    ),
    Detail(
        "a path of a computer",
        "text",
        ("/", "\\"),
        re.compile(
            r"(?:(?<![\w/.:])(?:/home/|/Users/|/mnt/|/media/|/Volumes/|~/)[\w.-]+(?:/[\w .-]*\w)*|"
            r"\b[A-Z]:\\[^\s\"']+|\\\\[\w-]+\\[^\s\"']+|\bfile:///\S+)"
        ),
    ),
    Detail(
        "the name of a file",
        "capitals",
        (".",),
        re.compile(rf"(?<![\w/\\.-])[\w-]{{3,}}\.(?:{_MEDIA})\b", _I),
    ),
    Detail(
        "the address of a machine",
        "shape",
        (".0",),
        re.compile(r"(?<![\w.-])[0-9]{1,3}(?:\.[0-9]{1,3}){3}(?!\w|[.-]\w)"),
        _is_machine,
    ),
    Detail(
        "the address of a device",
        "text",
        (":", "-"),
        re.compile(r"(?<![\w:-])[0-9A-Fa-f]{2}(?:([:-])[0-9A-Fa-f]{2})(?:\1[0-9A-Fa-f]{2}){4}(?![\w:-])"),
    ),
    Detail(
        "a serial number",
        "capitals",
        ("SERIAL", "S/N", "SERIEN", "IMEI", "SN:"),
        re.compile(
            rf"\b(?:serial(?: {_NUMBER})?|S/N|SN(?=:)|Serien-?(?:nummer|nr\.?)|IMEI)"
            rf"{_SAID}[A-Z0-9-]{{5,}}\b",
            _I,
        ),
    ),
    Detail(
        "the name of a network",
        "capitals",
        ("WI-FI", "WIFI", "WLAN", "SSID", "HOTSPOT", "NETWORK", "NETZWERK"),
        re.compile(
            r"\b(?:SSID\b[: ]++(?:is |ist )?\S+|"
            r"(?:wi-?fi|WLAN|hotspot|network|Netzwerk)(?: (?:name|network|netz))?"
            r"(?: (?:is |was )?(?:called|named|namens|heißt|is|ist)|:)? ?[\"“„'‘«`][^\"”“'’»`\n]{2,32}[\"”“'’»`]|"
            r"(?:wi-?fi|WLAN|hotspot|network|Netzwerk)(?: network)? (?:is )?(?:called|named|namens|heißt) \S+)",
            _I,
        ),
    ),
    Detail(
        "a password",
        "capitals",
        ("PASSWOR", "PASSCODE", "KENNWORT", "PIN ", "PIN:", "API KEY", "TOKEN"),
        re.compile(
            r"\b(?:password|passwort|passcode|kennwort|PIN|API key|token)(?: (?:for|für|of|vom) [\w -]{2,20})?"
            r"(?: is| ist|:| =) ?(?!white\b|not\b|nicht\b|on\b|in\b)[^\s.,]{4,}",
            _I,
        ),
    ),
    Detail(
        "the number of an order",
        "capitals",
        (
            "ORDER",
            "INVOICE",
            "RECEIPT",
            "CUSTOMER",
            "TRACKING",
            "BESTELL",
            "RECHNUNG",
            "KUNDEN",
            "SENDUNG",
            "PARCEL",
        ),
        re.compile(
            rf"\b(?:(?:order|invoice|receipt|customer|tracking|parcel|transaction) {_NUMBER}|(?:order|invoice|receipt) #|"
            rf"(?:Bestell|Rechnungs|Kunden|Sendungs)-?(?:nummer|nr\.?)){_SAID}[A-Z0-9/-]{{4,}}",
            _I,
        ),
    ),
    Detail(
        "the number of a card",
        "shape",
        ("0000 0000", "0000000000000", "0000-0000"),
        re.compile(r"(?<![\w.-])[0-9]{4}(?:[ -]?[0-9]{4}){2}[ -]?[0-9]{1,7}(?!\w|-\w)"),
        _is_card,
    ),
    Detail(
        "the number of a card",
        "capitals",
        ("ENDING",),
        re.compile(r"\bcard ending (?:in |with )?\d{4}\b", _I),
    ),
    Detail(
        "the number of a person",
        "capitals",
        (
            "PASSPORT",
            "REISEPASS",
            "LICENCE N",
            "LICENSE N",
            "SOCIAL SEC",
            "SSN",
            "STEUER",
            "SOZIALVERS",
            "AUSWEIS",
        ),
        re.compile(
            r"\b(?:passport|Reisepass|driving licen[cs]e|driver['’]?s license|social security|SSN|Steuer-?ID|"
            rf"Steuernummer|Sozialversicherungsnummer|Ausweis(?:nummer)?)(?: {_NUMBER})?"
            rf"{_SAID}[A-Z0-9/-]{{6,}}\b",
            _I,
        ),
    ),
)
