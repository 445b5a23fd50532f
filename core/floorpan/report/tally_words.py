"""The words of counts, and of the order that rows stand in."""

from typing import Final

# A state counts once for each pair; verdict, count: "hits", "2 states of 1 pair".
COUNTED: Final = "{verdict} in {count}"
STATES: Final = ("{n} state", "{n} states")
PAIRS: Final = ("{n} pair", "{n} pairs")
OF_PAIRS: Final = "{states} of {pairs}"
FAIL: Final = "fail"
FAIL_ONE: Final = "fails"
ALL_CLEAR: Final = "all clear, {states}"
CLEAR_IN: Final = "Clear in {count}."
# What is worst, told wherever rows stand worst first; as `checks.finding.rank` sorts.
WORST_FIRST: Final = (
    "Worst first: hits, short, unseen, close, pending, clear. Of the same verdict, what misses most of what is wanted: "
    "10 short of 20 stands before 12 short of 100."
)
