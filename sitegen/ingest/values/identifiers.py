"""Identifiers that others have defined: addresses of the web, licences, currencies.

In: the text of one scalar. Out: the identifier, and a finding where the text is nearly one.

References
----------
RFC 3986 (2005), section 3.1: an address begins with its scheme.
ISO 4217: codes of currencies, as the Unicode CLDR has them.

"""

from __future__ import annotations

import re
from functools import lru_cache

from sitegen.core.findings.finding import Findings
from sitegen.core.findings.mend import Mend
from sitegen.core.language.text import listed
from sitegen.core.reference.licences import LICENCES
from sitegen.ingest.yaml.nodes import Scalar

_BARE_HOST = re.compile(r"(?:[\w-]+\.)+[^\W\d_]{2,}(?::\d+)?(?:[/?#]\S*)?")
_HALF_SCHEME = re.compile(r"(?:(?P<scheme>https?)[:/]{1,3}|//)(?P<rest>(?:[\w-]+\.)+\S+)", re.IGNORECASE)
_SCHEME = re.compile(r"https?://\S", re.IGNORECASE)
_CODE = re.compile(r"[A-Z]{3}")


def parse_link(scalar: Scalar | None, key: str, findings: Findings) -> str:
    """An address; a finding where its scheme is missing or cut short. Other texts are taken as they are."""
    text = "" if scalar is None else scalar.text.strip()
    if scalar is None or not text or _SCHEME.match(text):
        return text
    whole = ""
    if half := _HALF_SCHEME.fullmatch(text):
        whole = f"{(half['scheme'] or 'https').lower()}://{half['rest']}"
    elif _BARE_HOST.fullmatch(text):
        whole = f"https://{text}"
    if whole:
        message = f"`{text}` is an address without its scheme: the link would lead nowhere"
        scalar.report(findings, "not-a-link", message, scalar.written(whole, key=key), f"{key}: https://…")
    return text


def parse_licence(scalar: Scalar | None, findings: Findings) -> str:
    """A licence; a finding where it is a known one in another spelling, which would be shown without its text."""
    text = "" if scalar is None else scalar.text.strip()
    if scalar is None or not text or text in LICENCES:
        return text
    meant = [name for name in LICENCES if _plain(name) == _plain(text)]
    bare = [name for name in LICENCES if _plain(name.rpartition("-")[0]) == _plain(text)]
    if not meant and not bare:
        return text
    mend: str | Mend = scalar.written((meant or bare)[0], safe=bool(meant))
    message = f"`{text}` is not the identifier of a licence: it would be shown without a link to its text"
    scalar.report(findings, "not-a-licence", message, mend, ", ".join(LICENCES))
    return text


def _plain(name: str) -> str:
    """The letters and digits of a name, without the words that many add to it."""
    words = re.findall(r"[a-z]+|[\d.]+", name.lower().replace("creative commons", "cc"))
    return " ".join(word for word in words if word not in ("licence", "license", "international", "v"))


def parse_currency(scalar: Scalar | None, findings: Findings) -> str:
    """The code of a currency; a finding for any other text, with the code that it is a sign or another spelling of."""
    text = "" if scalar is None else scalar.text.strip()
    if scalar is None or not text or _is_code(text):
        return text
    message = f"`{text}` is not the code of a currency"
    scalar.report(findings, "not-a-currency", message, _currency_mend(scalar, text), "a code of ISO 4217")
    return ""


# Known without loading the names of all.
_COMMON = frozenset(
    [
        "AUD",
        "BRL",
        "CAD",
        "CHF",
        "CNY",
        "CZK",
        "DKK",
        "EUR",
        "GBP",
        "HUF",
        "INR",
        "JPY",
        "MXN",
        "NOK",
        "NZD",
        "PLN",
        "SEK",
        "USD",
        "ZAR",
    ]
)


def _is_code(text: str) -> bool:
    return text in _COMMON or (_CODE.fullmatch(text) is not None and text in _names())


# Signs that several countries write are advice.
_SIGNS = {
    "€": ("EUR",),
    "£": ("GBP",),
    "$": ("USD", "CAD", "AUD"),
    "₹": ("INR",),
    "₩": ("KRW",),
    "₽": ("RUB",),
    "₺": ("TRY",),
    "₴": ("UAH",),
    "zł": ("PLN",),
    "¥": ("JPY", "CNY"),
    "kr": ("SEK", "NOK", "DKK"),
    "fr.": ("CHF",),
}


def _currency_mend(scalar: Scalar, text: str) -> str | Mend:
    if _is_code(text.upper()):
        return scalar.written(text.upper())
    codes = _SIGNS.get(text.lower(), ())
    if not codes:
        by_name = {name.lower(): code for code, name in _names().items()}
        word = text.lower().removesuffix("s")
        codes = tuple(code for name, code in by_name.items() if name in (text.lower(), word))
    if len(codes) == 1:
        return scalar.written(codes[0])
    if codes:
        return f"write {listed([f'`{code}`' for code in codes], 'or')}"
    return "write its code, such as `EUR`"


@lru_cache(1)
def _names() -> dict[str, str]:
    """The English name of each currency by its code."""
    from babel import Locale  # noqa: PLC0415 - slow, and only for a journal with prices

    return dict(Locale("en").currencies)
