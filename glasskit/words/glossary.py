# SPDX-License-Identifier: MIT
"""One lay word and one trade word for each thing, from ``glasskit/data/glossary.csv``."""

import html
import re
from dataclasses import dataclass, replace
from functools import cache

from glasskit.classroom import AGES, COURSE, Question
from glasskit.quantities import one_of
from glasskit.tables import read

_EDGE = r"\b"
_EVERYDAY = ("hard", "stiff", "chance", "band", "flow", "stress", "mil", "lag", "scatter")
"""Lay words that mean other things as well: explained in the list, not at each mention."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Term:
    """One thing and its names.

    Attributes
    ----------
    lay, trade : str
        What everybody says, and what the trade says; alike where there is one word only.
    unit : str
        Unit in which it is told; empty if it has none.
    line : str
        What it means, in one line.
    ages : tuple of str
        Years of the pupils whose lesson uses it.

    """

    lay: str
    trade: str
    unit: str
    line: str
    ages: tuple[str, ...] = ()

    @property
    def both(self) -> str:
        """Lay word with the trade word after it, such as "squeeze (compression)"."""
        return self.lay if self.lay == self.trade else f"{self.lay} ({self.trade})"

    @property
    def pattern(self) -> str:
        """Regular expression of the lay word and its endings."""
        stem = re.escape(self.lay.removesuffix("e"))
        ending = "e?(?:s|d|ed|ing)?" if self.lay.endswith("e") else "(?:s|ed|ing|ping|ped)?"
        return rf"{_EDGE}{stem}{ending}{_EDGE}"

    def spoken_in(self, text: str) -> bool:
        """Whether a text has one of the two names."""
        names = rf"{self.pattern}|{_EDGE}{re.escape(self.trade)}{_EDGE}"
        return re.search(names, text, re.I) is not None


@cache
def terms() -> tuple[Term, ...]:
    """Return all words, in the order of the table."""
    return tuple(
        Term(
            lay=row["lay"],
            trade=row["trade"],
            unit=row["unit"],
            line=row["line"],
            ages=tuple(filter(None, row["ages"].split(";"))),
        )
        for row in read("glossary")
    )


def terms_in(text: str, least: int = 2) -> tuple[Term, ...]:
    """Return the words with two names that a text uses a number of times or more.

    Parameters
    ----------
    text : str
        Plain text.
    least : int
        Mentions from which a word counts [-].

    Returns
    -------
    tuple of Term
        In the order of the table; without words that mean other things as well.

    Examples
    --------
    >>> [term.both for term in terms_in("squeeze the skin; the squeezed skin holds")]
    ['squeeze (compression)', 'skin (compressed layer)']

    """
    return tuple(
        term
        for term in terms()
        if term.lay != term.trade
        and term.lay not in _EVERYDAY
        and len(re.findall(term.pattern, text, re.I)) >= least
    )


def hover(text: str) -> str:
    """Return plain text as HTML in which the first mention of each word tells its meaning.

    Parameters
    ----------
    text : str
        Plain text; it is escaped.

    Returns
    -------
    str
        HTML with ``abbr`` elements; its text is that of `text`.

    Examples
    --------
    >>> hover("The core holds.")
    'The <abbr title="tension zone: the inner part of toughened glass">core</abbr> holds.'

    """
    whole, known = _hovered()
    seen: set[str] = set()

    def told(found: re.Match[str]) -> str:
        term = known[(found.lastindex or 1) - 1]
        if term.lay in seen:
            return found[0]
        seen.add(term.lay)
        name = "" if term.lay == term.trade else f"{term.trade}: "
        title = html.escape(f"{name}{term.line}", quote=True)
        return f'<abbr title="{title}">{found[0]}</abbr>'

    return whole.sub(told, html.escape(text))


@cache
def _hovered() -> tuple[re.Pattern[str], tuple[Term, ...]]:
    known = [term for term in terms() if term.lay not in _EVERYDAY]
    known.sort(key=lambda term: -len(term.lay))  # "pull on the tip" before "pull"
    stems = "|".join(f"({term.pattern.removeprefix(_EDGE)})" for term in known)
    return re.compile(rf"{_EDGE}(?:{stems})", re.I), tuple(known)


def in_course_words(text: str) -> str:
    """Return a text of a question in the words that are examined from 14 on.

    Parameters
    ----------
    text : str
        In lay words.

    Returns
    -------
    str
        With tension, compression and stress for pull, squeeze and their like, by the phrases
        of ``glasskit/data/course_words.csv``, longest first.

    Examples
    --------
    >>> in_course_words("The face is squeezed by 500 MPa; it then feels a pull of 100 MPa.")
    'The face is under a compressive stress of 500 MPa; it then feels a tensile stress of
    100 MPa.'

    """
    return _course()[0].sub(lambda found: _course()[1][found[0]], text)


def spoken(asked: Question, age: str) -> Question:
    """Return a question in the words of these years: lay ones, or those that are examined.

    Parameters
    ----------
    asked : Question
        In lay words.
    age : {"8-11", "11-14", "14-16", "16-18"}
        From 14 on they get the words of their course.

    Returns
    -------
    Question
        With text, answers and replies in those words.

    Raises
    ------
    ValueError
        If `age` is not among those named.

    Examples
    --------
    >>> from glasskit.classroom import question
    >>> spoken(question("balance"), "14-16").options[question("balance").correct].text
    'in tension'

    """
    one_of("age", age, AGES)
    if age not in COURSE:
        return asked
    options = tuple(
        replace(
            option,
            text=in_course_words(option.text),
            reply=in_course_words(option.reply),
        )
        for option in asked.options
    )
    return replace(asked, text=in_course_words(asked.text), options=options)


@cache
def _course() -> tuple[re.Pattern[str], dict[str, str]]:
    phrases = {row["lay"]: row["course"] for row in read("course_words")}
    phrases |= {_capital(lay): _capital(course) for lay, course in phrases.items()}
    longest = sorted(phrases, key=len, reverse=True)
    return re.compile(rf"\b(?:{'|'.join(map(re.escape, longest))})\b"), phrases


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]
