"""Every word of the bench pages stands here: to translate them, translate this file.

What a setup says (how it is held, what to dial) comes with the plan and is not repeated here.
"""

from __future__ import annotations

from datetime import datetime

from barstock.bench.entry import Entry, Kind

WORDS = {
    # everywhere
    "tab build": "Build",
    "tab setup": "In hand",
    "tab parts": "Parts",
    "tab edit": "Drawing",
    "tab heats": "Clocks",
    "tab look": "Handbook",
    "tab log": "Log",
    "tab devices": "Devices",
    "skip": "To the page",
    "pages": "Pages",
    "unit": "Readings in",
    "unit as drawn": "as drawn",
    "unit mm": "mm",
    "unit inch": "inch",
    "print": "Print",
    "saved": "Saved at {at}",
    "taken back": "Taken back",
    "take back": "Take back",
    "not saved": "Not saved: this page cannot reach the bench computer. Try again.",
    "lost": "Out of touch with the bench computer; what others enter does not show.",
    "caution": "Caution.",
    "minutes": "about {minutes}",
    "long work plan": "Planning anew",
    "long work move": "Working out what moves",
    "long work stop": "Stop it",
    "long work stopping": "stopping",
    "long work broke off": "it broke off; the window in which 'barstock bench' runs may say why",
    # refusals
    "wrong host": "barstock does not answer to that name.",
    "from elsewhere": "That was not sent from a page of barstock; enter it on the page.",
    "too large": "That is more than barstock takes.",
    "log away": "The log cannot be reached; nothing was saved.",
    "log away title": "The log cannot be reached",
    "log away how": (
        "Nothing was saved now; what was saved before is safe. On the bench computer, see whether "
        "the database that keeps the log is running and its disk has room; the window in which "
        "'barstock bench' runs says what is wrong. This page asks again every ten seconds."
    ),
    "log away again": "Ask again now",
    "not paired": "This device is not paired.",
    "not here title": "Not here",
    "not here": "There is no such page. It may have been in the plan before the last one.",
    "to build": "To the build",
    "broken title": "That went wrong",
    "broken": "This is a mistake in barstock itself; what was entered before is safe in the log.",
    # build
    "hours left": "{left} left of {whole}",
    "hours all": "all done",
    "dial label": "{share} of a hundred parts of the work are done",
    "dial unit": "of 100",
    "changed": "The drawing or the shop is not as it was planned",
    "changed touched": "made by {count} operations, of which copies have {done}",
    "changed stays": (
        "What is cut stays cut, by the readings it was cut by. The rest is planned anew and the "
        "whole proved from the work as it stands, before any page changes."
    ),
    "faults": "The files have faults; mend them before planning anew",
    "replan": "Plan the rest anew",
    "replan why": "Copies are spoiled since the plan was made; the rest is to be planned anew.",
    "replan failed": "It could not be planned anew, and nothing has changed",
    "the build": "the build",
    "next": "What could be done now",
    "time": "There are",
    "time minutes": "{n} min",
    "time hours": "{n} h",
    "held in hand": "in the machine",
    "held held alike": "held alike: goes straight in",
    "held set up": "to be set up",
    "could": "{copies} of {still} left",
    "nothing fits": "No copy can be brought to an end in that time. Next in the order of work:",
    "stands": "What stands where",
    "machine": "Machine",
    "work": "Work",
    "nothing stands": "Nothing is set up yet.",
    "order": "Order of work",
    "state done": "done",
    "state begun": "begun, {done} of {of} done",
    "state free": "free",
    "state waits": "waits for setup {setup}",
    "state unjoined": "waits for the hearth",
    "mark done": "✓",
    "mark begun": "◐",
    "mark free": "○",
    "mark waits": "·",
    "setup": "Setup {n}",
    "off": "{n} off",
    "pack": "The printed pack",
    # a setup
    "opens": "Opens setup {n} at the bench",
    "whole": "All of it on one page",
    "card": "Card {n} of {of}",
    "back": "Back",
    "next card": "Next",
    "next setup": "Setup {n}",
    "to order": "Order of work",
    "hold": "Hold it",
    "set up": "Set what holds it",
    "zero": "Find zero",
    "set": "set",
    "copies": "Copies",
    "copy of": "copy {n} of {of}",
    "bar of": "bar {n} of {of}",
    "all copies": "all {of} done",
    "held up": "The work in setup {n}, as it is held",
    "drawing of": "Drawing of {part}",
    "why here": "Why here",
    "again": "Next copy: the readings again",
    "tick": "Copy {n}",
    "tick bar": "Bar {n}",
    "ticked": "done",
    "not ticked": "to do",
    "spoil": "A copy is spoiled",
    "spoil which": "Which copy",
    "spoil what": "What happened",
    "spoil do": "Enter it as spoiled",
    "spoil then": (
        "It loses its ticks and sizes, and is made again: plan the rest anew from the build's page."
    ),
    "spoil done": "Copy {n} is entered as spoiled. Plan the rest anew from the build's page.",
    "spoil which lacking": "Say which copy.",
    # the mechanism
    "mechanism": "Will it move?",
    "mechanism none": "It is not worked out yet. It takes about a minute.",
    "mechanism old": "The drawing was written since this was worked out.",
    "mechanism work": "Work it out",
    "mechanism failed": "It could not be worked out",
    "mechanism move": "move it",
    "mechanism motion": "Motion",
    "mechanism amount": "From stop to stop",
    "mechanism apart": "Apart",
    "mechanism glass": "Guide as of glass",
    # the work in the round
    "round": "the work in the round",
    "round link": "In the round",
    "round back": "The readings",
    "round label": "The work in setup {n}, to be turned",
    "round loaded": "as it is loaded",
    "round steps": "Operations",
    "round before": "Before",
    "round after": "After",
    "round play": "Play",
    "round stop": "Stop",
    "round cut": "Cut away",
    "round depth": "Cut at",
    "round bare": "Without the vise",
    "round level": "Upright",
    "round fresh": (
        "What the operation has just cut is hatched; where the work is cut away, the other way."
    ),
    "round how": (
        "One finger turns it, two draw nearer. Arrow keys turn it too, + and - draw nearer; page "
        "up and page down go from operation to operation. Cut away, a touch moves the cut there."
    ),
    "round plain": (
        "This browser cannot show it in the round; the picture shows the setup when done."
    ),
    # measuring
    "size read": "What it measures",
    "size copy": "Copy",
    "size with": "Measured with",
    "size enter": "Enter",
    "size none": "Write what was read.",
    "size far": (
        "{size} is far from {nominal}; if it is no slip, say so in the log as a note, or spoil it."
    ),
    "limits": "Limits",
    "drawn": "drawn {size}",
    "sizes so far": "Measured so far",
    "within": "within limits",
    "within mark": "✓",
    "loose": "within the drawing's, but {past} outside what is to be held",
    "loose mark": "△",
    "hold limits": "hold {limits}",
    "besides": "For every copy to hold: {words}.",
    "below": "{past} below the low limit",
    "above": "{past} above the high limit",
    "out mark": "✗",
    "close": "Close in on it",
    "close how": (
        "Enter the axis's reading at each cut and what was measured after it; the next cut is "
        "worked out. The first line may be the work before any cut."
    ),
    "close reading": "Axis reads",
    "close measured": "Measured",
    "close spring": "Same cut again",
    "close way": "Feeding makes the reading",
    "close greater": "greater",
    "close smaller": "smaller",
    "close ask": "What next?",
    "close next": "Next cut",
    "close none": "Enter at least one cut with what was measured.",
    "close row": "Cut {n}",
    # clocks
    "clock start": "Start: {figure}",
    "clock stop": "Stop: {figure}",
    "clock runs": "{figure}, since {since}, on {device}",
    "clock why": "What is timed here corrects the shop's figures: barstock learn.",
    "clocks": "Clocks running",
    "clocks none": "No clock is running.",
    "timer": "A clock to wait by",
    "timer for": "For",
    "timer heat": "heat",
    "timer pickle": "pickle",
    "timer rinse": "rinse",
    "timer cool": "cool down",
    "timer minutes": "Minutes",
    "timer start": "Start the clock",
    "timer over": "time is up",
    "timer wrong": "Write the minutes as a number, 1 to 600.",
    "pickle caution": (
        "Acid into water, never water into acid. Goggles and gloves; no iron in the pickle; let "
        "the work cool before it goes in, keep your face away. The maker's data sheet comes first."
    ),
    # the hearth
    "hearth": "At the hearth",
    "hearth of": "{part}: at the hearth",
    "hearth after": "after setup {setup}",
    "heat": "Heat {n} of {of}: {title}",
    "heat clock": "Clock: {minutes} min",
    "heat picture": "The work in heat {n}, as it lies and is held",
    "cleaning": "Cleaned, rinsed and dried",
    # parts
    "parts": "Parts",
    "part setups": "Setups",
    "part pieces": "{done} of {of} done",
    "part drawing none": "No drawing is written; plan the build again.",
    "part sizes": "Sizes as made",
    "part sizes none": "Nothing is measured yet.",
    "dimension": "Dimension",
    "size": "Size",
    "judgement": "Judgement",
    # the build, edited
    "edit": "The drawing as written",
    "edit what": (
        "What is changed here is changed in build.yaml, in your own words and order; the rest of "
        "the file stays as it is. The plan stays as it was until the rest is planned anew."
    ),
    "edit build": "The build itself",
    "edit fields": "Its sizes and the rest",
    "edit all": "All parts",
    "edit wrong": "{n} to mend",
    "edit look here": "look here",
    "edit look": "To what is to be mended",
    "edit new part": "Another part",
    "edit new feature": "A new feature: {kind}",
    "edit name": "Name",
    "edit name lacking": "Give it a name.",
    "edit name taken": "There is a '{name}' already; give it another name.",
    "edit needed": "needed",
    "edit more": "What else may be said of it",
    "edit save": "Write it",
    "edit saved": "It is written into build.yaml.",
    "edit touches": "What of the plan it touches",
    "edit refused": (
        "Nothing is written yet: mend what is said below. What you typed is still here."
    ),
    "edit meanwhile": (
        "Nothing is written: the file was changed meanwhile, from another page or by an editor. "
        "What you typed is still here, over the file as it is now. Look at both and write again."
    ),
    "edit not yet": "As typed; not written yet.",
    "edit no drawing": "It cannot be drawn like this; look at what is said beside the fields.",
    "edit out": "Take {name} out",
    "edit out title": "Take {name} out?",
    "edit out lost": (
        "Others rest on it. With it gone, build.yaml has these faults until they are mended too:"
    ),
    "edit out line": "line {line}",
    "edit out sure": "Take it out all the same",
    "edit out not": "Leave it in",
    "edit add": "Another feature",
    "edit add do": "Describe it",
    "edit undo": "Take the last change back",
    "edit redo": "Make it again",
    "edit undo not": "The file was changed since, so nothing was taken back.",
    "edit unreadable": "build.yaml cannot be read as UTF-8 text; mend it with an editor.",
    "edit as text": "The whole file as text",
    "edit file": "build.yaml",
    "edit check": "Check it",
    "edit sound": "Nothing is wrong with it.",
    # handbook
    "look": "Handbook",
    "look for": "Look up",
    "look do": "Look",
    "look try": "For example",
    "source": "Source",
    "memory": "typed from memory",
    # log
    "log": "Log",
    "log none": "Nothing is entered yet.",
    "log what": "What",
    "log older": "Older",
    "log newer": "Newer",
    "log out": "Take the history out",
    "log csv": "As CSV",
    "log json": "As JSON",
    "log in": "Bring a history in",
    "log in file": "File (JSON or CSV)",
    "log in do": "Bring it in",
    "log in wrong": "That file is no text.",
    "log in done": "{n} lines were new.",
    "note words": "What to remember",
    "note do": "Enter",
    "note none": "Write something first.",
    # devices
    "pair title": "Pair this device",
    "pair how": "Read the mark on the bench computer with this device, or type the code beside it.",
    "pair code": "Code",
    "pair name": "What this device is called",
    "pair name default": "tablet",
    "pair do": "Pair",
    "pair wrong": "That code is wrong, used, or too old. Ask for a new one on the bench computer.",
    "devices": "Devices",
    "devices how": "Paired devices see this build and may enter what is done. Nobody else does.",
    "devices new": "Pair another",
    "devices mark": "Mark to read with the other device",
    "devices lasts": "Good for one device and ten minutes.",
    "devices part": "Part with it",
    "devices here": "this one",
    "devices loopback": (
        "Only this computer sees these pages. Start with 'barstock bench DIR --lan' for a tablet."
    ),
}  # fmt: skip

TOLD = {
    Kind.TICK: "{operation}: {copy} done",
    Kind.SIZE: "{work}, {dimension}: {copy} measures {reading}",
    Kind.SPOILED: "{work}: {copy} spoiled",
    Kind.HEAT: "heat {operation} done",
    Kind.START: "clock started: {figure}",
    Kind.STOP: "clock stopped: {figure}, {minutes} min",
    Kind.NOTE: "note",
    Kind.PLANNED: "planned anew",
    Kind.UNDO: "took a line back",
}


def say(key: str, **values: object) -> str:
    """The words of that key with values filled in; KeyError for one that is not there."""
    return WORDS[key].format(**values)


def entry_words(entry: Entry) -> str:
    """A line of the log in words."""
    reading = "" if entry.reading is None else f"{entry.reading:.4f}".rstrip("0").rstrip(".")
    words = TOLD[entry.kind].format(
        operation=entry.operation,
        copy=f"copy {entry.nth}",
        work=entry.work,
        dimension=entry.dimension.replace("/", ": ", 1),
        reading=reading,
        figure=entry.figure or "?",
        minutes=f"{entry.minutes or 0:g}",
    )
    setup = f" (setup {entry.setup})" if entry.setup and entry.kind is not Kind.TICK else ""
    return f"{words}{setup}" + (f": {entry.words}" if entry.words else "")


def clock(moment: datetime) -> str:
    """A time of day in this computer's zone."""
    return moment.astimezone().strftime("%H:%M")


def day(moment: datetime) -> str:
    """A day and time in this computer's zone."""
    return moment.astimezone().strftime("%Y-%m-%d %H:%M")
