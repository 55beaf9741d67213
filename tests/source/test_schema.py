# ruff: noqa: E501 - a message stands whole on one line
"""Shapes: what is accepted, the words for what is not, and the agreement of both validators."""

from __future__ import annotations

import json
import re
import subprocess
import sys
from functools import cache
from pathlib import Path
from typing import Any

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from jsonschema import Draft202012Validator

from putback.source.load import Loaded, load_text
from putback.source.nearest import distance, nearest
from putback.source.refusal import Refusal
from putback.source.schema import FileKind, _compiled, _refusal, document, shipped, validate
from tests.guard import assert_none

FILES = sorted(path.name for path in shipped("schema").glob("*.schema.json"))
VERBS = f"the verbs are {', '.join(document('words.schema.json')['$defs']['verb']['enum'])}"

# The examples of the language, as its manual shows them.
GOOD = [
    (
        "machine",
        """\
machine: Tarrick D2
kind: two-cylinder inboard diesel
options:
  pump-drive: [belt, gear]
  heater: [none, fitted]
exclude:                                  # combinations that were never built
  - {pump-drive: gear, heater: fitted}

controls:
  seacock: {positions: [open, closed], normal: open}
  battery-switch: {positions: [on, off], normal: on}

parts:
  engine-block: {name: engine block}
  seacock-tail: {name: seacock tail}
  pump: {name: raw-water pump, mass: 2.4 kg}
  pump-cover: {name: pump cover, mass: 0.2 kg}
  cover-gasket: {name: cover gasket, replace: always, number: TD-3107, kit: pump-kit}
  impeller:
    name: impeller
    replace: always
    number: TD-3102
    kit: pump-kit
    needs: {seacock: closed, battery-switch: off}   # control positions before it is touched
  belt-guard: {name: belt guard, when: {pump-drive: belt}}
  cam:
    name: cam
    adjustable: true                      # its position must be marked or measured before it comes off
    wear: {measure: height at the peak, limit: ">= 6.4 mm", new: 7.0 mm}

fasteners:
  cover-screws:
    name: cover screw
    count: 6
    thread: M4 x 0.7
    class: A4-70
    drive: slot 6 mm
    secures: pump-cover                     # comes off with these out
    to: pump
    torque: 1.8 N·m
    layout: circle 46 mm                  # or a list of x, y positions: for the tightening order and its drawing
  guard-bolts: {name: guard bolt, count: 2, thread: M6 x 1.0, class: "8.8", drive: hex 10 mm, secures: belt-guard,
                to: engine-block, torque: 9 N·m, when: {pump-drive: belt}}
  block-drain: {name: drain plug, count: 1, thread: M10 x 1.0, drive: hex 12 mm, to: engine-block, torque: 12 N·m}
  header-cap: {name: header-tank cap, count: 1, to: engine-block, by-hand: a quarter turn to the stop}

lines:
  inlet-hose: {kind: hose, joins: [pump, seacock-tail]}

stacks:                                   # from the outside in: each must come off before the next, and goes on after it
  - [pump-cover, cover-gasket, impeller, cam]

access-after:                                   # reached only when these are off
  cover-screws: [belt-guard]

fluids:
  coolant: {grade: ethylene glycol 50 %, volume: 4.5 l, drains: [block-drain], fills: [header-cap]}
""",
    ),
    (
        "job",
        """\
job: Replace the raw-water pump impeller
purpose: Restore cooling-water flow, or renew the impeller at its interval.
interval: {hours: 300, months: 24}        # whichever comes first
people: 1
sections:
  - title: Make safe
    steps:
      - set: battery-switch
        to: off
      - set: seacock
        to: closed
      - caution: hot-coolant
  - title: Take apart
    steps:
      - remove: guard-bolts
      - remove: belt-guard
      - remove: cover-screws
        note: The last screw lets water out. Hold a cloth under the cover.
      - remove: pump-cover
      - remove: cover-gasket
      - remove: impeller
        tool: impeller-puller
  - title: Inspect
    steps:
      - measure: cam
        otherwise:                        # only when out of limit
          - mark: cam
          - remove: cam
          - install: cam
            new: true
          - align: cam
  - title: Put together
    steps:
      - apply: glycerine
        to: impeller
      - install: impeller
        new: true
        turn: clockwise
      - install: cover-gasket
        new: true
      - install: pump-cover
      - install: cover-screws
      - tighten: cover-screws             # to the machine's torque, in its order
      - install: belt-guard
      - install: guard-bolts
      - tighten: guard-bolts
      - set: seacock
        to: open
      - set: battery-switch
        to: on
  - title: Prove
    steps:
      - caution: running-engine
      - run: engine                       # the machine itself needs no entry
        at: idle
        for: 5 min
      - check: cooling-water outlet
        limit: "water within 20 s"
        otherwise:
          - stop: Stop the engine. Do the job again from the first installed part.
""",
    ),
    (
        "cautions",
        """\
hot-coolant:
  signal: warning                         # danger, warning, caution, notice (ANSI Z535.6)
  hazard: Coolant is hot and under pressure.
  consequence: It can burn eyes and skin seriously.
  avoid: [Let the engine cool until you can hold the header tank., Open the cap slowly under a cloth.]
  covers: [hot, pressure]                 # the hazards that it answers
""",
    ),
    (
        "hazards",
        """\
running-engine: {name: running engine, signal-at-least: warning, verbs: [run], ppe: [ear protection]}
fuel: {name: fuel and its vapour, signal-at-least: warning, tags: [fuel], safe-when: {fuel-tap: closed, tank: empty}}
""",
    ),
    (
        "tools",
        """\
small-torque-wrench: {name: small torque wrench, range: 1 N·m .. 25 N·m}
socket-10: {name: 10 mm socket, drives: hex 10 mm}
impeller-puller: {name: impeller puller}
""",
    ),
    (
        "consumables",
        """\
glycerine: {name: glycerine, tags: []}
""",
    ),
    (
        "equipment",
        """\
engine-stand: {name: engine stand, rated-load: 60 kg}
""",
    ),
]

# fmt: off
# Each fault: the file, then the findings as place, text there, message and hint.
STEPS = [
    ('- tighten: a\n  torqe: 5 N·m', [('4:3', 'torqe', "unknown key 'torqe'; did you mean 'torque'?", None)]),
    ('- remve: a', [('3:3', 'remve', "'remve' is not a verb; did you mean 'remove'?", None)]),
    ('- remve: a\n  cont: 2', [('3:3', 'remve', "'remve' is not a verb; did you mean 'remove'?", None), ('4:3', 'cont', "unknown key 'cont'; did you mean 'count'?", None)]),
    ('- remove: a\n  install: b', [('4:3', 'install', "two verbs in one step: 'remove' and 'install'", 'make two steps, with one action each')]),
    ('- remove: a\n  install: b\n  count: 2\n  torqe: 3\n  to: [1]', [('4:3', 'install', "two verbs in one step: 'remove' and 'install'", 'make two steps, with one action each'), ('6:3', 'torqe', "unknown key 'torqe'", 'the keys here are at, because, count, figure, install, name, new, note, remove, text, time, tool, turn, waive, when, without')]),
    ('- {text: hello}', [('3:4', 'text', 'this step has no verb', VERBS)]),
    ('- {}', [('3:3', '{}', 'this step has no verb', VERBS)]),
    ('- turn: a', [('3:3', 'turn', "'turn' needs 'by'", "by: how far, for example 2 turns or 90°; or 'until' with what shows that it is far enough")]),
    ('- {turn: a, by: 90°, seen-from: above}', [('3:4', 'turn', "'turn' needs 'way'", "way: the way that is seen from there, clockwise or anticlockwise")]),
    ('- {turn: a, by: 90°, way: left}', [('3:27', 'left', "'way' must be one of clockwise, anticlockwise, counterclockwise, not 'left'", None)]),
    ('- {turn: clockwise, install: a, nwe: true}', [('3:33', 'nwe', "unknown key 'nwe'; did you mean 'new'?", None)]),
    ('- {turn: left, install: a}', [('3:10', 'left', "'turn' must be one of clockwise, anticlockwise, counterclockwise, not 'left'", None)]),
    ('- {turn: a, remove: b}', [('3:13', 'remove', "two verbs in one step: 'turn' and 'remove'", 'make two steps, with one action each')]),
    ('- frob: x', [('3:3', 'frob', "'frob' is not a verb", VERBS)]),
    ('- frob: x\n  grob: y', [('3:3', 'frob', "'frob' is not a verb", VERBS)]),
    ('- note: x\n  remve: y', [('4:3', 'remve', "'remve' is not a verb; did you mean 'remove'?", None)]),
    ('- note: x\n  torque: 5 N·m', [('4:3', 'torque', "'torque' does not go with 'note'", "it goes with 'tighten'; the keys of 'note' are note, text, tool, figure, time, when, because, name, waive")]),
    ('- remove: a\n  torque: 5 N·m', [('4:3', 'torque', "'torque' does not go with 'remove'", "it goes with 'tighten'; the keys of 'remove' are remove, count, at, text, note, tool, figure, time, when, because, name, waive")]),
    ('- remove:', [('3:3', 'remove', "'remove' has no value", 'it must be a name or a list of names')]),
    ('- remove: {a: b}', [('3:11', '{a: b}', "'remove' must be a name or a list of names, not a mapping", None)]),
    ('- remove: []', [('3:11', '[]', "'remove' is empty", 'it must be a name or a list of names')]),
    ('- remove: [a, ]\n  count: six', [('4:10', 'six', "'count' must be a whole number of at least 1, not 'six'", None)]),
    ('- remove: a\n  count: 0', [('4:10', '0', "'count' must be a whole number of at least 1, not 0", None)]),
    ('- remove: a\n  count: 99999999999999999999', [('4:10', '99999999999999999999', "'count' must be at most 9999, not 99999999999999999999", None)]),
    ('- remove: a\n  count: .inf', [('4:10', '.inf', "'count' must be a whole number of at least 1, not '.inf'", None)]),
    ('- remove: a\n  count: 1e999', [('4:10', '1e999', "'count' must be a whole number of at least 1, not '1e999'", None)]),
    ('- remove: a\n  count: 6.5', [('4:10', '6.5', "'count' must be a whole number of at least 1, not 6.5", None)]),
    ('- set: a', [('3:3', 'set', "'set' needs 'to'", 'to: the position to bring it to, for example closed')]),
    ('- set: a\n  tp: b', [('4:3', 'tp', "unknown key 'tp'; did you mean 'to'?", None)]),
    ('- aply: a\n  to: b', [('3:3', 'aply', "'aply' is not a verb; did you mean 'apply'?", None)]),
    ('- apply: a\n  to:', [('4:3', 'to', "'to' has no value", 'it must be a name or a list of names')]),
    ('- remove a', [('3:3', 'remove a', "step 1 must be a mapping with one verb, not 'remove a'", "write it as 'remove: a'")]),
    ('- [a]', [('3:3', '[a]', 'step 1 must be a mapping with one verb, not a list', None)]),
    ('-', [('2:1', 'steps', 'step 1 has no value', 'it must be a mapping with one verb')]),
    ('- remove: true', [('3:11', 'true', "'remove' must be a name or a list of names, not true", "if it is text, put it in quotes: 'true'")]),
    ('- back-to: x', [('3:3', 'back-to', "'back-to' can only be in a step of 'otherwise' or 'outcomes'", 'move it there, or give this step a verb')]),
    ('- check: x\n  otherwise:\n  - back-to: y\n  - remove: b\n    back-to: c\n  - agin: y\n  - stop: x', [('7:5', 'back-to', "two verbs in one step: 'remove' and 'back-to'", 'make two steps, with one action each'), ('8:5', 'agin', "'agin' is not a verb", 'the verbs are remove, install, replace, loosen, tighten, disconnect, connect, drain, fill, set, place, take-away, mark, align, adjust, apply, clean, inspect, measure, check, run, lift, turn, wait, do, reverse, each, act, caution, note, stop')]),
    ('- do: x\n  count: 3', [('4:3', 'count', "'count' does not go with 'do'", "it goes with 'remove', 'install', 'replace', 'loosen' and 'tighten'; the keys of 'do' are do, with, text, note, tool, figure, time, when, because, name, waive")]),
    ('- remove: a\n  figure: [x.png]', [('4:11', '[x.png]', "'figure' must be a picture, or a mapping with 'image', 'alt', 'caption' and 'width', not a list", None)]),
    ('- remove: a\n  figure: {alt: x}', [('4:3', 'figure', "'figure' needs 'image'", 'image: file in the images folder of the guide, for example impeller.svg')]),
    ('- remove: a\n  when: {x: }', [('4:10', 'x', "'x' has no value", 'it must be a choice or a list of choices')]),
    ('- remove: a\n  when: [belt]', [('4:10', 'belt', "item 1 of 'when' must be a mapping from options to choices, not 'belt'", None)]),
    ('- remove: a\n  waive: {left-off: }', [('4:11', 'left-off', "'left-off' has no value", 'it must be text: the reason')]),
    ('- remove: a\n  name: Bad Name', [('4:9', 'Bad Name', "'Bad Name' is not a valid name; use lower-case letters, digits and hyphens: 'bad-name'", None)]),
    ('- Remove: a', [('3:3', 'Remove', "'Remove' is not a verb; did you mean 'remove'?", None)]),
    ('- remove: a\n  install: b\n  replace: c', [('4:3', 'install', "three verbs in one step: 'remove', 'install' and 'replace'", 'make each its own step, with one action')]),
    ('- 1: x', [('3:3', '1', "'1' is not a verb", VERBS)]),
    ('- install: a\n  new: yes\n  turn: clokwise', [('4:8', 'yes', "'new' must be true or false, not 'yes'; did you mean 'true'?", None), ('5:9', 'clokwise', "'turn' must be one of clockwise, anticlockwise, counterclockwise, not 'clokwise'; did you mean 'clockwise'?", None)]),
    ('- remove: a\n  ? \'odd key: "x"\'\n  : b', [('4:5', '\'odd key: "x"\'', 'unknown key \'odd key: "x"\'', 'the keys here are at, because, count, figure, name, note, remove, text, time, tool, waive, when')]),
    ('- tighten: x\n  to: b', [('4:3', 'to', "'to' does not go with 'tighten'", "it goes with 'set' and 'apply'; the keys of 'tighten' are tighten, torque, once-more, count, at, text, note, tool, figure, time, when, because, name, waive")]),
    ('- measure: cam\n  readings: 1\n  judge: most', [('4:13', '1', "'readings' must be a whole number of at least 2, or a list of names, not 1", None), ('5:10', 'most', "'judge' must be one of each, largest, smallest, average, difference, not 'most'", None)]),
    ('- measure: cam\n  outcomes: [{found: 3, stop: x}, {steps: [{back-to: x}]}]\n  otherwise: [{stop: x}]', [('4:25', 'stop', "outcome 1 needs 'steps'", "add 'steps'"), ('4:25', 'stop', "unknown key 'stop'", 'the keys here are found, steps'), ('4:36', 'steps', "outcome 2 needs 'found'", 'found: values that this outcome is for, for example "> 0.3 mm"'), ('5:3', 'otherwise', "'outcomes' and 'otherwise' cannot be used together", 'keep one of them')]),
    (f'- measure: cam\n  readings: [{", ".join(["a"] * 100)}]', [('4:13', f'[{", ".join(["a"] * 100)}]', "'readings' must have at most 99 items, but has 100", None)]),
    ('- measure: cam\n  otherwise: stop', [('4:14', 'stop', "'otherwise' must be a list of steps, not 'stop'", None)]),
]

JOBS = [
    ('job: x', [('1:1', 'job', "'steps' is missing", "add 'steps', or 'sections' with a title and steps each")]),
    ('job: x\nstesp: [{remove: a}]', [('2:1', 'stesp', "unknown key 'stesp'; did you mean 'steps'?", None)]),
    ('job: x\nsections: [{title: a, steps: [{remove: b}]}]\nsteps: [{remove: b}]', [('3:1', 'steps', "'sections' and 'steps' cannot be used together", 'keep one of them')]),
    ('job: x\nsections: [{steps: [{remove: b}]}, {title: x}, {titel: x, steps: []}]', [('2:13', 'steps', "section 1 needs 'title'", 'title: the heading, for example Take apart'), ('2:37', 'title', "section 2 needs 'steps'", "add 'steps'"), ('2:49', 'titel', "unknown key 'titel'; did you mean 'title'?", None), ('2:66', '[]', "'steps' is empty", 'it must be a list of steps')]),
    ('- a', [('1:1', '- a', "the file must be a mapping with 'job', and 'steps' or 'sections', not a list", None)]),
    ('hello', [('1:1', 'hello', "the file must be a mapping with 'job', and 'steps' or 'sections', not 'hello'", None)]),
    ('~', [('1:1', '~', 'the file has no value', "it must be a mapping with 'job', and 'steps' or 'sections'")]),
    ('{}', [('1:1', '{}', "'job' is missing", 'job: what is done, as a heading, for example Replace the impeller'), ('1:1', '{}', "'steps' is missing", "add 'steps', or 'sections' with a title and steps each")]),
    ('steps: []', [('1:1', 'steps', "'job' is missing", 'job: what is done, as a heading, for example Replace the impeller'), ('1:8', '[]', "'steps' is empty", 'it must be a list of steps')]),
    ('job: x\nsteps: {remove: a}', [('2:8', '{remove: a}', "'steps' must be a list of steps, not a mapping", None)]),
    ('job: x\nsteps: remove', [('2:8', 'remove', "'steps' must be a list of steps, not 'remove'", None)]),
    ('job: x\nsetions: [{title: a, steps: [{remove: b}]}]', [('2:1', 'setions', "unknown key 'setions'; did you mean 'sections'?", None)]),
    ('job:\nsteps: [{remove: a}]\ninterval: {hours: often, weeks: 3, km: 0, years: 2.0}\npeople: -1', [('1:1', 'job', "'job' has no value", 'it must be text'), ('3:19', 'often', "'hours' must be a number above 0, or a range such as 3 .. 6, not 'often'", None), ('3:26', 'weeks', "unknown key 'weeks'", 'the keys here are also, first, hours, km, months, years'), ('3:40', '0', "'km' must be a number above 0, not 0", None), ('4:9', '-1', "'people' must be a whole number of at least 1, not -1", None)]),
    ("job: ''\nsteps: [{remove: a}]\ninterval: {}", [('1:6', "''", "'job' is empty", 'it must be text'), ('3:11', '{}', "'interval' is empty", 'it must be a mapping such as {hours: 300, months: 24}, or words')]),
    ('job: x\nsteps: [{remove: a}]\ninterval: 300', [('3:11', '300', "'interval' must be a mapping such as {hours: 300, months: 24}, or words, not 300", None)]),
    ('job: x\nsteps: [{remove: a}]\ninterval: {first: 20 h, months: 6 to 12, years: 0 .. 2}', [('3:19', '20 h', "'first' must be a mapping such as {hours: 20, months: 1}, not '20 h'", None), ('3:33', '6 to 12', "'months' must be a number above 0, or a range such as 3 .. 6, not '6 to 12'", None), ('3:49', '0 .. 2', "'years' must be a number above 0, or a range such as 3 .. 6, not '0 .. 2'", None)]),
    ('job: x\nsteps: [{remove: a}]\nfasteners: 3\nPurpose: x', [('3:1', 'fasteners', "unknown key 'fasteners'", 'the keys here are after, before, cost, ends-with, follow-ups, interval, job, people, purpose, sections, skill, steps, supplies, time, waive'), ('4:1', 'Purpose', "unknown key 'Purpose'; did you mean 'purpose'?", None)]),
]

MACHINES = [
    ('fasteners: {Cover Screws: {count: 2}}', [('2:13', 'Cover Screws', "'Cover Screws' is not a valid name; use lower-case letters, digits and hyphens: 'cover-screws'", None)]),
    ('fasteners: {a: {torque: 3 N·m, by-hand: x, no-torque: y}}', [('2:44', 'no-torque', "'torque', 'by-hand' and 'no-torque' cannot be used together", 'keep one of them')]),
    ('fasteners: {a: {releases-when: lose, by_hand: x}}', [('2:32', 'lose', "'releases-when' must be one of out, loose, not 'lose'; did you mean 'loose'?", None), ('2:38', 'by_hand', "unknown key 'by_hand'; did you mean 'by-hand'?", None)]),
    ('fasteners:\n  - a', [('3:3', '- a', "'fasteners' must be a mapping from names to fasteners, not a list", None)]),
    ('parts:\n  pump:', [('3:3', 'pump', "'pump' has no value", 'it must be a mapping with facts about the part; write {} if there is nothing to say')]),
    ('parts: {pump: {replace: yes, rotation: left, adjustable: maybe, wear: {measure: x}}}', [('2:25', 'yes', "'replace' must be 'always', not 'yes'", None), ('2:40', 'left', "'rotation' must be clockwise, anticlockwise, or a mapping from one control to the direction in each of its positions, not 'left'", None), ('2:58', 'maybe', "'adjustable' must be true or false, not 'maybe'", None)]),
    ('lines: {h: {kind: hoze}}', [('2:9', 'h', "'h' needs 'joins'", 'joins: the parts that it joins; at a tee, another line')]),
    ('lines: {h: {join: [a, b]}}', [('2:13', 'join', "unknown key 'join'; did you mean 'joins'?", None)]),
    ('fluids: {oil: {drains: plug}}', [('2:24', 'plug', "'drains' must be a list of names, not 'plug'", 'write it as a list: [plug]')]),
    ('stacks: [a, b, c]', [('2:10', 'a', "item 1 of 'stacks' must be a list of names, or a mapping with 'when' and 'order', not 'a'; 2 others in this list as well", "a list inside a list needs its own brackets: [[a, b, …]]")]),
    ('stacks: [[a, b], {when: {x: y}, order: [a]}, {when: {x: y}}, a, []]', [('2:47', 'when', "item 3 of 'stacks' needs 'order'", 'order: the names, from the outside in'), ('2:62', 'a', "item 4 of 'stacks' must be a list of names, or a mapping with 'when' and 'order', not 'a'", None), ('2:65', '[]', "item 5 of 'stacks' is empty", "it must be a list of names, or a mapping with 'when' and 'order'")]),
    ('options: {pump-drive: belt}', [('2:23', 'belt', "'pump-drive' must be a list of choices, not 'belt'", None)]),
    ('options: {a: [X Y, true]}', [('2:15', 'X Y', "'X Y' is not a valid name; use lower-case letters, digits and hyphens: 'x-y'", None), ('2:20', 'true', "item 2 of 'a' must be a name of lower-case letters, digits and hyphens, not true", "if it is text, put it in quotes: 'true'")]),
    ('fluids: {o: {level: {at: window}}, p: {level: {at: tank, marks: [a, b, c]}}, q: {level: {marks: x}}}', [('2:26', 'window', "'at' must be one of dipstick, sight-glass, tank, hole, not 'window'", None), ('2:65', '[a, b, c]', "'marks' must be a list of one or two names, but has 3 items", None), ('2:82', 'level', "'level' needs 'at'", 'at: what it is seen at. At a hole, it should be at the lower edge'), ('2:97', 'x', "'marks' must be a list of one or two names, not 'x'", None)]),
    ('controls: {s: {positions: [on, off], normal: on, looks: dial}}', [('2:57', 'dial', "'looks' must be one of lever, rotary, switch, tap, pull, not 'dial'", None)]),
    ('controls: {s: {positions: [open, closed]}}', [('2:12', 's', "'s' needs 'normal'", 'normal: its position before and after any job, for example open')]),
    ('needs: {rn: {a: b}, frobnicate: {a: b}}', [('2:9', 'rn', "'rn' is not a verb; did you mean 'run'?", None), ('2:21', 'frobnicate', "'frobnicate' is not a verb", VERBS)]),
    ('fasteners: {a: {layout: [[1, 2], [3]], order: [1, x], class: 8.8, number: 3107, thread: 5}}', [('2:34', '[3]', "item 2 of 'layout' must be a position [x, y], but has 1 item", None), ('2:51', 'x', "item 2 of 'order' must be a whole number of at least 1, not 'x'", None)]),
    ('fasteners: {a: {layout: [[1, 2, 3]]}}', [('2:26', '[1, 2, 3]', "item 1 of 'layout' must be a position [x, y], but has 3 items", None)]),
    ("parts: {1: {name: x}, '': {}, Ölfilter: {}}", [('2:23', "''", "'' is not a valid name; use lower-case letters, digits and hyphens", None), ('2:31', 'Ölfilter', "'Ölfilter' is not a valid name; use lower-case letters, digits and hyphens: 'olfilter'", None)]),
    ('exclude: [{}]', [('2:11', '{}', "item 1 of 'exclude' is empty", 'it must be a mapping from options to choices')]),
]

OTHERS = [
    ('symptoms', 'a: {sign: x, causes: [{cause: x, check: x}]}', [('1:34', 'check', "item 1 of 'causes' needs 'mend'", 'mend: what to do then; or name the job that does it, with job')]),
    ('symptoms', 'a: {causes: [{check: x, job: b}]}\nB c: {sign: x, causes: []}', [('1:1', 'a', "'a' needs 'sign'", 'sign: what is seen, heard, smelled or felt, as a sentence, for example No water comes out of the tell-tale'), ('1:15', 'check', "item 1 of 'causes' needs 'cause'", 'cause: what is wrong then, as a sentence, for example The impeller is torn'), ('2:1', 'B c', "'B c' is not a valid name; use lower-case letters, digits and hyphens: 'b-c'", None), ('2:24', '[]', "'causes' is empty", "it must be a list of mappings with 'cause', 'check', and 'job' or 'mend'")]),
    ('cautions', 'a: {signal: warn}', [('1:13', 'warn', "'signal' must be one of danger, warning, caution, notice, not 'warn'; did you mean 'warning'?", None)]),
    ('cautions', 'a: {hazard: x}', [('1:1', 'a', "'a' needs 'signal'", 'signal: signal word for how grave the hazard is: danger, warning, caution or notice (ANSI Z535.6, ISO 3864-2)')]),
    ('cautions', 'a: {signal: warning, avoid: x}', [('1:29', 'x', "'avoid' must be a list of text, not 'x'", 'write it as a list: [x]')]),
    ('hazards', 'a: {signal-at-least: warning, verbs: [rn, 3]}', [('1:39', 'rn', "item 1 of 'verbs' must be a verb, not 'rn'; did you mean 'run'?", None), ('1:43', '3', "item 2 of 'verbs' must be a verb, not 3", None)]),
    ('guide', 'title: x\ndate: 25.11.2026\nunits: [metric, metric]\nedition: 1.10', [('2:7', '25.11.2026', "'date' must be a calendar date such as 2026-11-25, not '25.11.2026'", None), ('3:8', '[metric, metric]', "'units' has the same value twice", None)]),
    ('guide', 'title: x\nunits: imperial', [('2:8', 'imperial', "'units' must be one of metric, us, not 'imperial'", None)]),
    ('guide', 'title: x\nunits: []\nauthors: me', [('2:8', '[]', "'units' is empty", 'it must be a list of metric and us'), ('3:10', 'me', "'authors' must be a list of text, not 'me'", 'write it as a list: [me]')]),
    ('guide', 'title: x\nunits: {a: b}', [('2:8', '{a: b}', "'units' must be one of metric, us, not a mapping", None)]),
    ('tools', 'a: 3', [('1:4', '3', "'a' must be a mapping with facts about the tool, not 3", None)]),
    ('equipment', 'a: {}', []),
    ('block', 'block: x\nsteps: [{do: y}]\nends-with: x', [('3:12', 'x', "'ends-with' must be a list of names, not 'x'", 'write it as a list: [x]')]),
    ('guide', 'title: x x x x x x x x x x x x x x x x x x x x x x x x x x x x x x x x x x x x x x x x x x x x x x x x x x \nlanguage: [yyyyyyyyyyyyyyyyyyyyyyyyyyyyyyyyyyyyyyyyyyyyyyyyyyyyyyyyyyyyyyyyyyyyyyyyyyyyyyyyyyyyyyyyyyyyyyyyyyyy]', [('2:11', '[yyyyyyyyyyyyyyyyyyyyyyyyyyyyyyyyyyyyyyyyyyyyyyyyyyyyyyyyyyyyyyyyyyyyyyyyyyyyyyyyyyyyyyyyyyyyyyyyyyyy]', "'language' must be a language tag such as en, de or pt-BR, not a list", None)]),
]
# fmt: on


def read(text: str) -> Loaded:
    loaded = load_text(text, "f.yaml")
    assert not loaded.faults
    return loaded


def said(text: str, kind: str) -> list[tuple[str, str, str, str | None]]:
    """Each finding as its place, the text there, the message and the hint."""
    loaded = read(text)
    findings = validate(loaded, FileKind(kind))
    assert {(finding.check, finding.level.value) for finding in findings} <= {("wrong-shape", "error")}
    return [(f"{f.span.line}:{f.span.column}", f.span.cut(loaded.text), f.message, f.hint) for f in findings]


@pytest.mark.parametrize(("kind", "text"), GOOD, ids=[kind for kind, _ in GOOD])
def test_accepts_the_examples_of_the_language(kind: str, text: str) -> None:
    assert said(text, kind) == []


@pytest.mark.parametrize(("text", "expected"), STEPS)
def test_faults_of_a_step(text: str, expected: Any) -> None:
    assert said(f"job: x\nsteps:\n{text}", "job") == expected


@pytest.mark.parametrize(("text", "expected"), JOBS)
def test_faults_of_a_job(text: str, expected: Any) -> None:
    assert said(text, "job") == expected


@pytest.mark.parametrize(("text", "expected"), MACHINES)
def test_faults_of_a_machine(text: str, expected: Any) -> None:
    assert said(f"machine: M\n{text}", "machine") == expected


@pytest.mark.parametrize(("kind", "text", "expected"), OTHERS)
def test_faults_of_other_files(kind: str, text: str, expected: Any) -> None:
    assert said(text, kind) == expected


# Every key of every verb, and every key of a thing, as docs/reference/language.md lists them.
FULL = [
    ("guide", "{title: x, subtitle: x, edition: 1.10, date: 2026-11-25, authors: [a, b], licence: x, units: [us, metric], "
              "language: en, read-first: x, web: 'https://example.org/x', waive: {long-sentence: quoted from the standard}, "
              "revisions: [{edition: 2, date: 2026-11-25, changes: [a, b]}]}"),
    ("guide", "{title: x, units: metric}"),
    ("guide", "{title: x, units: [us]}"),
    ("job", "{job: x, purpose: x, interval: {first: {hours: 20, months: 1, years: 1, km: 500}, hours: 300, months: 3 .. 6, years: 2, km: 15000, also: before storage}, people: 2, time: 90 min, cost: {parts: x, workshop: x}, skill: x, after: a, before: b, ends-with: [c, d], supplies: {parts: {a: 1}, fluids: {b: 1 l}, consumables: [c], tools: [d], equipment: [e]}, "
            "waive: {no-final-test: y}, follow-ups: [{after: 2 h, when: {a: b}, steps: [{inspect: a}]}], sections: [{title: a, when: [{x: [y, z]}, {x: w, v: u}], steps: [{remove: b}]}]}"),
    ("block", "{block: x, ends-with: [a], begins-with: [b], own-page: true, takes: {c: fastener}, steps: [{remove: [a, b], count: 2}]}"),
    ("job", "job: x\nsteps:\n" + "\n".join(f"- {{{keys}}}" for keys in (
        "remove: a, count: 2", "install: a, count: 2, new: true, turn: anticlockwise, without: [b, c]", "replace: a, count: 1",
        "loosen: [a, b], count: 1", "tighten: a, torque: 18 N·m, count: 3", "tighten: a, once-more: true", "tighten: a, torque: 18", "tighten: a, torque: snug", "disconnect: a, at: b",
        "connect: a, at: b", "drain: a, volume: 300 ml", "fill: a, volume: 300 ml", "set: a, to: off", "place: a, at: b, in: c", "place: a, in: {b: [c, d]}",
        "take-away: a, at: b", "mark: a, against: b", "align: a, against: b", "adjust: [a, b], limit: 0.2 mm .. 0.4 mm", "apply: a, to: [b, c]", "clean: a, with: b",
        "inspect: a, for: [cracks, wear], otherwise: [{stop: x}]", "measure: a, limit: 0.2 mm .. 0.4 mm, otherwise: [{back-to: b}]",
        "measure: a, readings: [x, y], judge: largest, difference: <= 1 mm, outcomes: [{found: '> 1 mm', steps: [{back-to: b}]}]",
        "measure: a, readings: 2, proves: [b, c]",
        "check: a, limit: x, proves: b, otherwise: [{replace: b}, {back-to: c, note: d}]", "run: engine, at: idle, for: 5 min, proves: [b, c]",
        "lift: a, with: b, people: 2, reach: 40 cm, height: 1 m, to-reach: 5 in, to-height: 1 m, twist: 45°, grip: fair", "turn: [a, b], way: clockwise, seen-from: the rear, by: 2 turns, until: it clicks", "wait: 5 min, until: it is cold", "do: a, with: {c: d}", "reverse: a, with: {c: d}", "each: cylinder, steps: [{remove: a, at: 3}]", "act: x, on: [a, b], at: 2", "caution: [a, b]", "note: x", "stop: x",
        "note: x, text: y", "remove: 3107", "remove: a, figure: a.png",
        "remove: a, text: x, note: x, tool: [a, b], figure: {image: a.png, alt: x, caption: x, width: 8 mm, crop: {from: 1 % 2 %, to: 3.5 % 40 %}, callouts: [{thing: a, text: x, at: [1 % 2 %], circle: 5 %, arrow: 3 % 4 %, number: 3, number-at: 2 % 9 %}, {text: x, at: 5 % 5 %}]}, time: 5 min, when: {a: b}, "
        "because: x, name: first, waive: {message-unneeded: x}",
    ))),
    ("machine", """
machine: M
note: x
options: {x: [y, z]}
how-to-tell: {x: {y: It is tall., 2: It is low.}}
places: {cylinder: 6, corner: [front-left, 2]}
exclude: [{x: y}]
needs: {run: {cooling-water: on}}
results-in: {run: {heat: hot}}
can-start: [{key: on, tag: away}, {rope: connected}]
access-after: {a: [b]}
renew-together: [[a, b], [c]]
stacks: [[a, b], {when: {x: y}, order: [a, b]}]
controls: {s: {positions: [1, 2], normal: 1, looks: lever, any-at-end: true, guard: true, name: x, plural: x, when: {a: b}, note: x, tags: [t], needs: {a: b}}}
parts: {p: {mass: 2 kg, assembly: [a, b], uses: [x, y], replace: always, number: 3107, kit: k, adjustable: true, rotation: clockwise, seen-from: x, hangs: true, lubricant: c, clean-before: [a, b],
  thread: M14 x 1.25, class: 8.8, length: 30 mm, drive: hex 21 mm, torque: 25 N·m, stages: [5 N·m, 9 N·m], passes: 2, torque-confirmed: x,
  condition: dry, compound: c, to: a, secures: [a, b], releases-when: loose, engagement: 12 mm, insert: x, hole: blind, tool: t, wrench-angle: 90°,
  retighten-after: 10 h, slacken: 90°, reuse: x, bore: 4 mm, shank: 6 mm, running-torque: 3 N·m, counterhold: a, locks: b, kind: spark plug, count: 2, positions: [a, b], each: cylinder, own-places: true,
  turns-with: [a, b], guard: true, material: cast iron, shape: wave washer, size: {outside: 24 mm, inside: 14 mm, thickness: 1 mm}, loosen-evenly: true, instead-of: [q], wear: {measure: x, limit: 3, new: 2}, inspect-when-off: [x, y], check-when-back: x, check-before-run: x, check-in-run: x, name: x, plural: x, when: {a: b}, note: x, tags: [t], needs: {a: b}}, q: {rotation: {a: {b: clockwise, 2: counterclockwise}}}}
fasteners:
  f: {kind: nut, uses: 2, count: 6, thread: M6 x 1.0, class: 8.8, length: 30 mm, drive: hex 10 mm, secures: [a, b], releases-when: loose,
    to: p, counterhold: g, locks: [h, p], torque: 9 N·m, stages: [5 N·m, 9 N·m], order: [1, 3, 2], layout: [[0, 0], [40 mm, 0]], condition: dry, compound: c,
    engagement: 9 mm, bore: 2 mm, shank: 5 mm, running-torque: 1 N·m, retighten-after: 10 h, slacken: 90°, torque-confirmed: x, insert: wire insert, hole: through, passes: 2, reuse: x, tool: t, wrench-angle: 90°, inspect-when-off: x, check-when-back: x, check-before-run: x, check-in-run: x, positions: [left, right], replace: always, number: 1, kit: k, name: x, plural: x, when: {a: b}, note: x, tags: [t], clean-before: a,
    needs: {a: b}}
  g: {by-hand: a quarter turn, past-hand-tight: 2 .. 3 turns, order: crosswise, layout: circle 46 mm, front: up, top: left, seen-from: above, head: hex flange, thread-length: 22 mm, tightened-after: f}
  h: {no-torque: it is a pin, secures: a, count: not counted, own-places: true}
  i: {count: {x: {y: 2, z: 3}}, each: corner}
lines: {l: {kind: hose, joins: [a, b], inspect-when-off: x, check-when-back: x, check-before-run: x, check-in-run: x, replace: always, number: 1, kit: k, name: x, plural: x, when: {a: b}, note: x,
  tags: [t], needs: {a: b}}}
kits: {k: {name: x, number: 1, contents: {p: 1, f: 6}}}
settings:
  v: {limit: 0.2 mm .. 0.4 mm, check-in-run: true, measured: x, disturbed-by: [a, b], adjusted-by: {f: left, g: [up, down]}, name: x, plural: x, when: {a: b},
    instead-of: w, note: x, tags: [t], needs: {a: b}}
  w: {limit: 3 mm, disturbed-by: a}
fluids: {o: {check-when-back: x, check-before-run: x, check-in-run: x, grade: x, volume: 1 l, drains: [a], fills: [b], vents: [c], settles: 10 min, level: {at: tank, marks: [x, y], to: x}, name: x, plural: x, when: {a: b}, note: x, tags: [t],
  needs: {a: b}}}
"""),
    ("cautions", "{a: {signal: notice, hazard: x, consequence: x, avoid: [x], covers: [y], ppe: [gloves]}}"),
    ("hazards", "{a: {name: x, signal-at-least: danger, verbs: [run], tags: [t], ppe: [gloves], safe-when: {a: b}, while: {a: c}, mass: 15 kg, licensed: true, waste: x, not-worn: [gloves]}}"),
    ("tools", "{a: {name: x, range: 1 N·m .. 25 N·m, step: 1 N·m, lever: 300 mm, extends: 40 mm, reads: [0.05 mm, 1 N], drives: [hex 10 mm, hex 12 mm], tags: [t]}, b: {reads: 1}}"),
    ("consumables", "{a: {name: x, threads: greased, tags: [t]}}"),
    ("job", "{job: x, interval: before each use, steps: [{inspect: a}]}"),
    ("symptoms", "{a: {sign: x, when: {b: c}, causes: [{cause: x, check: x, job: b, mend: x, when: [{b: c}, {d: e}]}, {cause: x, check: x, mend: x}]}}"),
    ("equipment", "{a: {name: x, rated-load: 60 kg, tags: [b], thread: M8, length: 90 mm, keeps: [c], may-stay: true, lid: true},"
                  " d: {keeps: {c: off}}}"),
]  # fmt: skip


@pytest.mark.parametrize(("kind", "text"), FULL)
def test_accepts_every_key_of_the_language(kind: str, text: str) -> None:
    assert said(text, kind) == []


def test_every_key_of_the_schemas_is_tried() -> None:
    tried = "\n".join(text for _, text in FULL)
    missing = {key for file in FILES for key, _ in properties(document(file)) if f"{key}:" not in tried}
    assert_none(sorted(missing), "give each of these keys a value in FULL of this file")


def test_a_whole_number_may_be_written_as_a_decimal() -> None:
    loaded = read("job: x\nsteps: [{remove: a, count: 6.0}]")
    assert validate(loaded, FileKind.JOB) == []
    assert '"count": 6}' in json.dumps(loaded.root.plain() if loaded.root else None)


def test_a_file_with_faults_of_reading_is_not_looked_at() -> None:
    loaded = load_text("job: &a x\nstesp: 3", "f.yaml")
    assert [fault.check for fault in loaded.faults] == ["not-plain"]
    assert validate(loaded, FileKind.JOB) == []
    assert validate(load_text("a: [", "f.yaml"), FileKind.JOB) == []


def test_the_place_of_the_other_key_is_told() -> None:
    loaded = read("job: x\nsteps:\n- remove: a\n  install: b")
    [finding] = validate(loaded, FileKind.JOB)
    assert [(str(also.span), also.message) for also in finding.also] == [("f.yaml:3:3", "the first verb")]
    [finding] = validate(read("job: x\nsteps: [{do: a}]\nsections: [{title: x, steps: [{do: a}]}]"), FileKind.JOB)
    assert [(str(also.span), also.message) for also in finding.also] == [("f.yaml:2:1", "'steps' is here")]


def test_very_long_and_very_many() -> None:
    key, value = "x" * 1000, "y" * 100_000
    rows = said(f"job: x\n{key}: {value}\nsteps: [{{remove: a, new: [{value}]}}, {value}]", "job")
    assert [message for _, _, message, _ in rows] == [
        f"unknown key '{'x' * 39}…'",
        "'new' does not go with 'remove'",
        f"step 2 must be a mapping with one verb, not '{'y' * 39}…'",
    ]
    faults = said("job: x\nsteps:\n" + "- remve: a\n" * 500, "job")
    assert len(faults) == 500


# The schema files themselves


def properties(schema: Any) -> list[tuple[str, Any]]:
    found = []
    if isinstance(schema, dict):
        for key, value in schema.items():
            if key == "properties":
                found += value.items()
            found += properties(value) if key not in ("enum", "properties") else []
            found += [pair for sub in value.values() for pair in properties(sub)] if key == "properties" else []
    elif isinstance(schema, list):
        found = [pair for item in schema for pair in properties(item)]
    return found


def keywords(schema: Any) -> set[str]:
    if isinstance(schema, list):
        return {word for item in schema for word in keywords(item)}
    if not isinstance(schema, dict):
        return set()
    found = set(schema)
    for key, value in schema.items():
        if key in ("properties", "$defs"):
            found |= {word for sub in value.values() for word in keywords(sub)}
        elif key not in ("enum", "required", "default", "examples"):
            found |= keywords(value)
    return found


def test_there_is_one_file_for_each_kind() -> None:
    assert sorted([*(f"{kind}.schema.json" for kind in FileKind), "words.schema.json"]) == FILES


@pytest.mark.parametrize("file", FILES)
def test_each_file_is_json_schema_2020_12(file: str) -> None:
    schema = document(file)
    assert schema["$schema"] == "https://json-schema.org/draft/2020-12/schema"
    Draft202012Validator.check_schema(schema)
    assert "oneOf" not in keywords(schema)


@pytest.mark.parametrize("file", FILES)
def test_each_reference_leads_to_a_definition(file: str) -> None:
    references = re.findall(r'"\$ref": "([^"#]*)#/\$defs/([^"]+)"', (shipped("schema") / file).read_text("utf-8"))
    assert references
    for target, name in references:
        assert target in ("", "words.schema.json")
        assert name in document(target or file)["$defs"]


@pytest.mark.parametrize("file", FILES)
def test_each_key_has_words_for_an_editor(file: str) -> None:
    words = document("words.schema.json")["$defs"] | document(file).get("$defs", {})
    for key, schema in properties(document(file)):
        if schema is True or "not" in schema:  # the same key with its words stands elsewhere
            continue
        target = words.get(schema.get("$ref", "").rpartition("/")[2], {})
        assert "description" in schema or "description" in target, key


# For each keyword that can refuse: a file that it refuses. The other keywords only combine these.
REFUSED = {
    "additionalProperties": ("equipment", "a: {x: 1}"),
    "anyOf": ("job", "job: x\nsteps: [{text: x}]"),
    "enum": ("cautions", "a: {signal: x}"),
    "exclusiveMinimum": ("job", "job: x\ninterval: {km: 0}\nsteps: [{do: x}]"),
    "maxItems": ("machine", "machine: x\nfasteners: {a: {layout: [[1, 2, 3]]}}"),
    "maximum": ("machine", "machine: x\nfasteners: {a: {count: 10000}}"),
    "minItems": ("job", "job: x\nsteps: []"),
    "minLength": ("job", "{job: x, steps: [{remove: ''}]}"),
    "minProperties": ("job", "job: x\ninterval: {}\nsteps: [{do: x}]"),
    "minimum": ("machine", "machine: x\nfasteners: {a: {count: 0}}"),
    "not": ("machine", "machine: x\nfasteners: {a: {torque: 3 N·m, by-hand: x}}"),
    "pattern": ("guide", "{title: x, date: x}"),
    "required": ("guide", "{subtitle: x}"),
    "type": ("guide", "title: [x]"),
    "uniqueItems": ("guide", "{title: x, units: [us, us]}"),
}
COMBINING = {
    "$schema", "$comment", "$defs", "$ref", "title", "description", "default", "examples", "properties", "propertyNames", "items", "allOf",
    "if", "then", "else",
}  # fmt: skip


def test_every_keyword_of_the_schemas_is_explained() -> None:
    used = {word for file in FILES for word in keywords(document(file))}
    assert used - COMBINING == set(REFUSED)


@pytest.mark.parametrize("keyword", REFUSED)
def test_each_keyword_has_its_words(keyword: str) -> None:
    kind, text = REFUSED[keyword]
    loaded = read(text)
    assert loaded.root is not None
    raw = {error.validator for error in _refusal(FileKind(kind)).validator.iter_errors(loaded.root.plain())}
    assert raw == {keyword}
    [finding] = validate(loaded, FileKind(kind))
    assert not JARGON.search(finding.message + (finding.hint or ""))


JARGON = re.compile(
    "schema|keyword|instance|properties|is not valid|does not match|something else|JSON|None|array|string|object"
)


# Laws


@cache
def slow(kind: FileKind) -> Refusal:
    """An explaining validator that asks the compiled one about nothing."""
    words = "words.schema.json"
    return Refusal(kind.value, document(f"{kind}.schema.json"), document(words), words, lambda _step: False)


SCALARS = st.one_of(
    st.none(),
    st.booleans(),
    st.integers(-2, 10**25),
    st.floats(-10, 10, allow_nan=False),
    st.text("aB-1 é\n'%_", max_size=6),
    st.sampled_from(["remove", "install", "note", "back-to", "always", "warning", "metric", "2026-11-25\n", "x-y"]),
)
VALUES: st.SearchStrategy[Any] = st.one_of(
    SCALARS,
    st.lists(SCALARS, max_size=3),
    st.dictionaries(st.sampled_from(["remove", "to", "when", "x", "X y", ""]), SCALARS, max_size=2),
)
KEYS = st.sampled_from(
    ["remove", "install", "note", "back-to", "to", "torque", "torqe", "count", "when", "steps", "sections", "otherwise",
     "title", "positions", "x", "by-hand", "a\n"]
)  # fmt: skip
STARTS = [(kind, read(text).root) for kind, text in (*GOOD, *FULL)]


def places(value: Any) -> list[tuple[Any, Any]]:
    """Every container of a document with every key or index in it."""
    inside = value.items() if isinstance(value, dict) else enumerate(value) if isinstance(value, list) else ()
    return [pair for key, sub in inside for pair in ((value, key), *places(sub))]


@settings(max_examples=300, deadline=None)
@given(st.sampled_from(STARTS), st.data())
def test_both_validators_agree_and_nothing_breaks(start: Any, data: st.DataObject) -> None:
    kind, root = start
    plain = root.plain()
    for _ in range(data.draw(st.integers(1, 3))):
        spots = places(plain)
        if not spots:
            break
        holder, key = data.draw(st.sampled_from(spots))
        match data.draw(st.sampled_from(["replace", "drop", "add", "rename"])):
            case "replace":
                holder[key] = data.draw(VALUES)
            case "drop":
                del holder[key]
            case "add" if isinstance(holder, dict):
                holder[data.draw(KEYS)] = data.draw(VALUES)
            case "rename" if isinstance(holder, dict):
                holder[data.draw(KEYS)] = holder.pop(key)
            case _:
                holder.insert(key, data.draw(VALUES))
    loaded = load_text(json.dumps(plain, ensure_ascii=False, indent=1), "f.yaml")
    assume(not loaded.faults and loaded.root is not None)  # a key with a line end is refused before
    assert loaded.root is not None
    seen = loaded.root.plain()
    accepted = _compiled(FileKind(kind)).is_valid(seen)
    thorough = slow(FileKind(kind))
    assert thorough.validator.is_valid(seen) == accepted
    findings = validate(loaded, FileKind(kind))
    assert thorough.explain(loaded.root, seen, "f.yaml", {})[0] == findings
    assert (findings == []) == accepted
    assert len({(finding.span, finding.message) for finding in findings}) == len(findings)
    for finding in findings:
        assert finding.span.cut(loaded.text), finding
        assert not JARGON.search(finding.message), finding


# What is imported


@pytest.mark.parametrize(("text", "late"), [("job: x\nsteps: [{remove: a}]", False), ("job: x", True)])
def test_slow_modules_are_imported_only_to_explain(text: str, late: bool) -> None:
    code = (
        "import sys; import putback.source.schema as s; from putback.source.load import load_text\n"
        f"s.validate(load_text({text!r}, 'f.yaml'), s.FileKind.JOB)\n"
        "print(*sorted({'jsonschema', 'networkx', 'click', 'rich', 'sphinx'} & set(sys.modules)))"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.split() == (["jsonschema"] if late else [])


def test_only_files_of_the_schema_folder_are_read() -> None:
    for name in ("https://example.org/x.schema.json", "../x.schema.json", "x.json"):
        with pytest.raises(FileNotFoundError):
            document(name)


def test_shipped_prefers_what_lies_in_the_package(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    package = tmp_path / "src" / "putback"
    package.mkdir(parents=True)
    monkeypatch.setattr("putback.source.schema.__file__", str(package / "source" / "schema.py"))
    with pytest.raises(FileNotFoundError, match="the folder 'schema' that comes with Putback is missing"):
        shipped("schema")
    (tmp_path / "schema").mkdir()
    assert shipped("schema") == tmp_path / "schema"
    (package / "_shipped" / "schema").mkdir(parents=True)
    assert shipped("schema") == package / "_shipped" / "schema"


@pytest.mark.parametrize(
    ("word", "likely"),
    [
        ("torqe", "torque"), ("TORQUE", "torque"), ("troque", "torque"), ("warn", "warning"), ("to", None), ("tp", "to"),
        ("ro", None), ("x", None), ("", None), ("torqueing-it", None), ("x" * 61, None),
    ],
)  # fmt: skip
def test_nearest(word: str, likely: str | None) -> None:
    candidates = ["torque", "turn", "warning"] + (["to"] if word != "to" else [])
    assert nearest(word, candidates) == likely


@pytest.mark.parametrize(
    ("one", "other", "away"),
    [("", "", 0), ("", "abc", 3), ("ca", "ac", 1), ("kitten", "sitting", 3), ("ca", "abc", 3)],
)
def test_distance(one: str, other: str, away: int) -> None:
    assert distance(one, other) == distance(other, one) == away


# What goes onto the cover and into every page of HTML


@pytest.mark.parametrize(
    "tag",
    [
        "en",
        "de",
        "pt-BR",
        "zh-Hant-TW",
        "de-CH-1996",
        "es-419",
        "sr-Latn-RS",
        "sl-rozaj-biske",
        "en-a-bbb-x-a-ccc",
        "yue",
        "xx",
    ],
)
def test_language_tags(tag: str) -> None:
    assert validate(read(f"title: x\nlanguage: {tag}"), FileKind.GUIDE) == []


@pytest.mark.parametrize(
    "tag",
    [
        "../../x", "/etc", "e", "english", "en-", "-en", "en--US", "en us", "en\"><script>alert(1)</script>", "de_CH", "1", "x-none",
        "en-U", "en\\nb", "deutsch (Schweiz)", "{{ x }}",
    ],
)  # fmt: skip
def test_what_is_no_language_tag(tag: str) -> None:
    findings = validate(read(f"title: x\nlanguage: {json.dumps(tag)}"), FileKind.GUIDE)
    assert {finding.span[1:3] for finding in findings} == {(2, 11)}
    assert findings[0].message.startswith("'language' must be a language tag such as en, de or pt-BR, not '")
    assert findings[0].hint == ("write it with a hyphen: 'de-CH'" if tag == "de_CH" else None)


@pytest.mark.parametrize(
    "date", ["2026-11-25", "2026-02-28", "2024-02-29", "2000-02-29", "0001-01-31", "2026-12-31", "2026-04-30"]
)
def test_dates(date: str) -> None:
    assert validate(read(f"title: x\ndate: {date}"), FileKind.GUIDE) == []


@pytest.mark.parametrize(
    "date",
    [
        "2026-13-45", "2026-00-10", "2026-02-29", "2026-02-30", "1900-02-29", "2026-04-31", "2026-11-00", "2026-1-1", "26-11-25",
        "2026-11-25 ", "2026-11-2５", "2026-11-25T10:00",
    ],
)  # fmt: skip
def test_what_is_no_date(date: str) -> None:
    [finding] = validate(read(f"title: x\ndate: {json.dumps(date)}"), FileKind.GUIDE)
    assert finding.message == f"'date' must be a calendar date such as 2026-11-25, not '{date.strip()}'"
    assert finding.span[1:3] == (2, 7)


def test_all_days_of_four_centuries_are_dates_and_no_others() -> None:
    import datetime

    pattern = re.compile(document("words.schema.json")["$defs"]["day"]["pattern"])
    for year in (1999, 2000, 2023, 2024, 2100, 2400):
        for month in range(14):
            for day in range(33):
                try:
                    datetime.date(year, month, day)
                    good = True
                except ValueError:
                    good = False
                assert bool(pattern.search(f"{year}-{month:02}-{day:02}")) is good


@pytest.mark.parametrize("blank", [" ", "   ", "\\t", "\u00a0", "\u3000", "\u200b", " \u2060\u00ad "])
@pytest.mark.parametrize(
    ("kind", "text", "thing"),
    [
        ("guide", "title: {}", "'title'"),
        ("guide", "title: x\nauthors: [a, {}]", "item 2 of 'authors'"),
        ("guide", "title: x\nread-first: {}", "'read-first'"),
        ("machine", "machine: {}", "'machine'"),
        ("job", "job: {}\nsteps: [{{do: a}}]", "'job'"),
        ("job", "job: x\nsections: [{{title: {}, steps: [{{do: a}}]}}]", "'title'"),
        ("job", "job: x\nsteps: [{{note: {}}}]", "'note'"),
        ("job", "job: x\nsteps: [{{do: a, waive: {{left-off: {}}}}}]", "'left-off'"),
        ("block", "block: {}\nsteps: [{{do: a}}]", "'block'"),
    ],
)
def test_blank_texts(blank: str, kind: str, text: str, thing: str) -> None:
    [finding] = validate(read(text.format(f'"{blank}"')), FileKind(kind))
    assert finding.message == f"{thing} is blank"
    assert finding.hint is not None
    assert finding.hint.startswith("it must be text")


def test_an_empty_text_is_said_to_be_empty() -> None:
    [finding] = validate(read('title: ""'), FileKind.GUIDE)
    assert finding.message == "'title' is empty"
