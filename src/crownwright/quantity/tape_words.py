"""From what was typed or spoken to the few tokens a length is made of. Knows typography and speech, not units' sizes.

`tokens` turns text into numbers, fractions, unit marks and dashes; `lengths` reads meaning into their order.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

Kind = Literal["n", "d", "f", "'", '"', "M", "C", "K", "-", "+", "?"]
"""n whole number, d decimal, f fraction, ' feet, " inches, M metres, C centimetres, K millimetres, - dash, + plus, ? unread."""


@dataclass(frozen=True, slots=True)
class Token:
    """One piece of a length as typed. ``step`` is the value of its last division, in the token's own unit."""

    kind: Kind
    text: str
    value: Fraction = Fraction(0)
    step: Fraction = Fraction(1)
    trouble: str = ""


# A whole number may stand straight before these ("51½"), so each becomes a space and a plain fraction.
_VULGAR = {"½": "1/2", "¼": "1/4", "¾": "3/4", "⅛": "1/8", "⅜": "3/8", "⅝": "5/8", "⅞": "7/8", "⅓": "1/3", "⅔": "2/3"}
_SAME = str.maketrans(
    {
        **dict.fromkeys("′’‘‛ʹʼ`´＇", "'"),
        **dict.fromkeys("″“”„‟ʺ＂", '"'),
        **dict.fromkeys("−–—‐‑‒﹣－", "-"),
        **dict.fromkeys("⁄∕／", "/"),
        **dict.fromkeys("\u00a0\u2002\u2003\u2007\u2008\u2009\u200a\u202f\u3000\t\n\r", " "),
        **dict.fromkeys("\u200b\u200c\u200d\u200e\u200f\u2060\ufeff", ""),
        "＋": "+",
        "．": ".",
        "，": ",",
        **dict(zip("０１２３４５６７８９", "0123456789", strict=True)),
    }
)
_RAISED = re.compile("([⁰¹²³⁴⁵⁶⁷⁸⁹]+)/([₀₁₂₃₄₅₆₇₈₉]+)")
_FLAT = str.maketrans("⁰¹²³⁴⁵⁶⁷⁸⁹₀₁₂₃₄₅₆₇₈₉", "01234567890123456789")

_UNITS: dict[str, Kind] = {
    **dict.fromkeys(("'", "ft", "foot", "feet"), "'"),
    **dict.fromkeys(('"', "in", "inch", "inches"), '"'),
    **dict.fromkeys(("m", "metre", "metres", "meter", "meters"), "M"),
    **dict.fromkeys(("cm", "centimetre", "centimetres", "centimeter", "centimeters"), "C"),
    **dict.fromkeys(("mm", "millimetre", "millimetres", "millimeter", "millimeters"), "K"),
}
_ONES = (
    "zero one two three four five six seven eight nine "
    "ten eleven twelve thirteen fourteen fifteen sixteen seventeen eighteen nineteen"
)
_TENS = "twenty thirty forty fifty sixty seventy eighty ninety"
_NUMBERS = {word: n for n, word in enumerate(_ONES.split())} | {word: 10 * n for n, word in enumerate(_TENS.split(), 2)}
_PARTS = {"half": 2, "halves": 2, "quarter": 4, "quarters": 4, "eighth": 8, "eighths": 8, "sixteenth": 16, "sixteenths": 16}
_FILLERS = {"and", "a", "an", "of", "&", ","}
_NO_AMOUNT = {"heavy", "strong", "light", "shy", "scant", "full", "bare", "about", "approx", "circa"}

_TENS_AND_ONES = re.compile(rf"\b({'|'.join(_TENS.split())})[ -]({'|'.join(_ONES.split()[1:10])})\b")
_ORDINAL = re.compile(r"([0-9]+)[ /](2|4|8|16|32|64)(?:ths?|nds?)\b")
_ONE_PART = re.compile(rf"\b(?:(?:and|an?) )+({'|'.join(_PARTS)})\b")
_PIECE = re.compile(r"[0-9][0-9.,]*(?:/[0-9]+)*|[.,][0-9]+(?:/[0-9]+)?|[a-z]+\.?|''|['\"]|\S")


def plain(text: str) -> str:
    """The text with typographic quotes, dashes, spaces and fraction signs turned into the plain ones of a keyboard.

    >>> plain("4′ 3½″")
    '4\\' 3 1/2"'
    """
    text = text.translate(_SAME)
    for sign, fraction in _VULGAR.items():
        text = text.replace(sign, f" {fraction}")
    text = _RAISED.sub(lambda m: f" {m[1].translate(_FLAT)}/{m[2].translate(_FLAT)}", text)
    return " ".join(text.split())


def tokens(text: str) -> tuple[Token, ...]:
    """The pieces of a length, in order; a piece that cannot be read carries its ``trouble`` in words.

    >>> [t.kind for t in tokens("fifty-one and five eighths inches")]
    ['n', 'f', '"']
    """
    text = plain(text).lower().rstrip(" .")
    text = _TENS_AND_ONES.sub(lambda m: str(_NUMBERS[m[1]] + _NUMBERS[m[2]]), text)
    text = _ONE_PART.sub(lambda m: f"1/{_PARTS[m[1]]}", _ORDINAL.sub(r"\1/\2", text))
    return _join_spoken_fractions([_token(piece) for piece in _PIECE.findall(text) if piece not in _FILLERS])


def _token(piece: str) -> Token:
    if _digits(piece[0]) or (len(piece) > 1 and piece[0] in ".,"):
        return _fraction(piece) if "/" in piece else _number(piece)
    word = piece.rstrip(".") or piece
    if word == "''":
        word = '"'
    if word in _UNITS:
        return Token(_UNITS[word], piece)
    if word in _NUMBERS:
        return Token("n", piece, Fraction(_NUMBERS[word]))
    if word in _PARTS:
        return Token("f", word, Fraction(1, _PARTS[word]), Fraction(1, _PARTS[word]))
    if word in ("-", "minus"):
        return Token("-", piece)
    if word in ("+", "plus"):
        return Token("+", piece)
    if word in _NO_AMOUNT:
        return Token("?", piece, trouble=f"“{word}” does not say how much")
    return Token("?", piece, trouble=f"“{piece}” is not a number, a fraction or a unit")


def _join_spoken_fractions(read: list[Token]) -> tuple[Token, ...]:
    """Five + eighths -> 5/8, three - quarters -> 3/4."""
    out: list[Token] = []
    for token in read:
        if token.text in _PARTS:
            if len(out) > 1 and out[-1].kind == "-" and out[-2].kind == "n":
                out.pop()
            if out and out[-1].kind == "n":
                count = out.pop()
                out.append(_fraction(f"{count.value}/{_PARTS[token.text]}"))
                continue
        out.append(token)
    return tuple(out)


def _digits(text: str) -> bool:
    """Plain digits only: a raised ² is a digit to Python, but not on a tape."""
    return text.isascii() and text.isdigit()


def _fraction(piece: str) -> Token:
    top, _, bottom = piece.partition("/")
    if not (_digits(top) and _digits(bottom)):
        return Token("?", piece, trouble=f"“{piece}” is not a fraction")
    if int(bottom) not in (2, 4, 8, 16, 32, 64):
        return Token("?", piece, trouble=f"{piece} is not a fraction of a tape (halves down to sixty-fourths)")
    if int(top) >= int(bottom):
        return Token("?", piece, trouble=f"the fraction {piece} is one or more")
    return Token("f", piece, Fraction(int(top), int(bottom)), Fraction(1, int(bottom)))


def _number(piece: str) -> Token:
    """A number; a comma is the decimal sign where it can be nothing else, a thousands mark where it can be nothing else."""
    piece = piece.rstrip(".,")
    whole, mark, decimals = _split_decimal(piece)
    if mark == "?":
        return Token("?", piece, trouble=f"the comma in “{piece}” may mean thousands or decimals")
    if not _digits((whole or "0") + (decimals or "0")):
        return Token("?", piece, trouble=f"“{piece}” is not a number")
    if not decimals:
        return Token("n", piece, Fraction(int(whole)))
    return Token("d", piece, Fraction(f"{whole or '0'}.{decimals}"), Fraction(1, 10 ** len(decimals)))


def _split_decimal(piece: str) -> tuple[str, str, str]:
    dots, commas = piece.count("."), piece.count(",")
    if not commas or not dots:
        mark = "," if commas else "."
        if commas + dots > 1:
            grouped = re.fullmatch(r"[0-9]{1,3}(,[0-9]{3})+", piece)
            return (piece.replace(",", ""), "", "") if grouped else (piece, "", "")
        if re.fullmatch(r"[1-9][0-9]{0,2},[0-9]{3}", piece):
            return piece, "?", ""
        return piece.partition(mark)
    mark = max(".,", key=piece.rfind)
    whole, _, decimals = piece.rpartition(mark)
    other = "," if mark == "." else "."
    grouped = re.fullmatch(rf"\d{{1,3}}(\{other}\d{{3}})+", whole)
    return (whole.replace(other, ""), mark, decimals) if grouped else (piece, "", "")
