-- No output, or not what VOLTS says, of an Orrin Vale Copse. The chain is halved at C7: raw supply before it, regulator after it.
require "family"

playbook {
  id = "copse/no-output", edition = 4,
  title = "Copse bench supply: no output, or the wrong one",
  family = "Orrin Vale Copse",
  first = {
    "Take everything off J1. A charged load feeds back into the output and hides what the supply itself does.",
    "Mark with tape where VOLTS and CURRENT stand; the owner may have a job set up.",
    "F1 is 1.25 A slow. If somebody fitted a bigger one, leave the unit off and write it down.",
  },
  symptom = {
    "the output at J1 is missing, wrong, or in current limit with nothing connected",
    under = "mains on, nothing at J1, VOLTS and CURRENT as the owner left them, one minute",
    power = "on", tries = 2, absent = "not-shown",
  },
  enter = {
    { "none", "no output at all", to = "lamp" },
    { "wrong", "an output, but not what VOLTS says, or it sags under load", to = "settings", clears = { "fuse", "switch" } },
    { "limits", "the red LIMIT lamp is lit with nothing connected", to = "settings", clears = { "fuse", "switch" } },
  },
}

-- What each mode shows where the line-up does not tell of it; `healthy` says the rest.
suspect "fuse" { title = "F1, mains fuse", modes = { "open" }, odds = 3,
  shows = { open = { ["intake/entry"] = "none", lamp = "dark", ["f1-ohms"] = "OL" } } }
suspect "switch" { title = "S1, mains switch", modes = { "open pole" },
  shows = { ["open pole"] = { ["intake/entry"] = "none", lamp = "dark", ["primary-ohms"] = "OL", S1 = "OL" } } }
suspect "t1" { title = "T1, mains transformer", modes = { "thermal cut-out open", "shorted turns", "secondary open" },
  shows = { ["thermal cut-out open"] = { ["intake/entry"] = "none", lamp = "dark", ["primary-ohms"] = "OL" },
            ["shorted turns"] = { ["intake/entry"] = "none", lamp = "dark", ["f1-ohms"] = "OL", ["primary-ohms"] = "7 ohm" },
            ["secondary open"] = { ["intake/entry"] = "none", lamp = "dark", ["lamp-again"] = "dark", ["secondary-ohms"] = "OL", C7 = "0 V" } } }
suspect "bridge" { title = "D1 to D4, bridge rectifier", modes = { "diode short", "diode open" }, odds = 3,
  shows = { ["diode short"] = { ["intake/entry"] = "none", lamp = "dark", ["f1-ohms"] = "OL", D1 = "0.02 V" },
            ["diode open"] = { ["loaded-volts"] = "36 V", ["raw-loaded/dc"] = "46.5 V", ["raw-loaded/ripple"] = "1.8 V", D3 = "OL" } } }
suspect "c7" { title = "C7, reservoir", modes = { "dried", "short" }, odds = 4,
  shows = { dried = { ["loaded-volts"] = "35 V", ["raw-loaded/dc"] = "43 V", ["raw-loaded/ripple"] = "5 V" },
            short = { ["intake/entry"] = "none", lamp = "dark", ["f1-ohms"] = "OL", ["c7-alone"] = "3 ohm" } } }
suspect "aux" { title = "U1, +12 V auxiliary supply", modes = { "dead", "low" }, odds = 2,
  shows = { dead = { ["intake/entry"] = "none", lamp = "dark", ["lamp-again"] = "dark" } } }
suspect "reference" { title = "U2, 5 V reference", modes = { "dead", "drifted" },
  shows = { dead = { ["intake/entry"] = "none" } } }
suspect "amp" { title = "U3, error amplifier", modes = { "stuck low", "stuck high" }, odds = 2,
  shows = { ["stuck low"] = { ["intake/entry"] = "none", ["J9.3"] = "0.5 V" },
            ["stuck high"] = { ["J9.3"] = "12.5 V", J1 = "54 V", knob = "54 V" } } }
suspect "q1" { title = "Q1, pass transistor", modes = { "short", "open" }, odds = 3,
  shows = { short = { J1 = "54 V", knob = "54 V", ["ce-pass"] = "0.3 ohm" }, open = { ["loaded-volts"] = "37 V", ["be-pass/Q1"] = "OL" } } }
suspect "q2" { title = "Q2, pass transistor", modes = { "short", "open" }, odds = 3,
  shows = { short = { J1 = "54 V", knob = "54 V", ["ce-pass"] = "0.3 ohm" }, open = { ["loaded-volts"] = "37 V", ["be-pass/Q2"] = "OL" } } }
suspect "q3" { title = "Q3, driver", modes = { "short", "open" }, odds = 2,
  shows = { short = { J1 = "53 V", knob = "53 V", ["ce-q3"] = "0.4 ohm" },
            open = { ["intake/entry"] = "none", ["J9.3"] = "10.5 V", ["be-q3"] = "OL" } } }
suspect "r34" { title = "R34, full-scale trimmer, out of adjustment", modes = { "shifted" }, odds = 2 }
suspect "r33" { title = "R33, VOLTS potentiometer", modes = { "worn", "open" },
  shows = { open = { ["intake/entry"] = "none", ["J9.3"] = "0.4 V" } } }
suspect "r35" { title = "R35, feedback divider", modes = { "high", "open" },
  shows = { open = { J1 = "54 V", knob = "54 V", ["J9.3"] = "12.5 V" } } }
suspect "r41" { title = "R41, CURRENT potentiometer", modes = { "worn", "open" },
  shows = { worn = { ["intake/entry"] = "limits", J1 = "12 V", ["limit-lamp"] = "lit" },
            open = { ["intake/entry"] = "limits", J1 = "0.1 V", ["limit-lamp"] = "lit" } } }
suspect "u4" { title = "U4, current-limit comparator", modes = { "stuck" },
  shows = { stuck = { ["intake/entry"] = "limits", J1 = "0.3 V", ["limit-lamp"] = "lit" } } }
suspect "crowbar" { title = "Q9, crowbar thyristor", modes = { "short" }, odds = 2,
  shows = { short = { ["intake/entry"] = "limits", J1 = "0.8 V", ["limit-lamp"] = "lit", ["j1-ohms"] = "0.5 ohm" } } }
suspect "c12" { title = "C12, output capacitor", modes = { "short" },
  shows = { short = { ["intake/entry"] = "limits", J1 = "0.1 V", ["limit-lamp"] = "lit", ["j1-ohms"] = "0.4 ohm", ["j1-without"] = "0.4 ohm" } } }
suspect "settings" { title = "VOLTS or CURRENT left turned down", modes = { "set" }, odds = 2,
  shows = { set = { ["intake/entry"] = "none", settings = "down" } } }
healthy {
  ["intake/entry"] = "wrong", lamp = "lit", ["lamp-again"] = "lit", settings = "up", ["limit-lamp"] = "dark", ["limit-loaded"] = "dark",
  ["ref-label"] = "5.00 V",
  ["raw-loaded/dc"] = "50 V +/- 4 %", ["raw-loaded/ripple"] = "0.6 V +/- 10 %", C7 = "56 V +/- 5 %", ["J9.3"] = "10 V +/- 4 %",
}

-- The current's way, for `show`.
chain "power" { "X1", "fuse", "switch", "t1", "P2", "bridge", "C7", "c7", "q1", "q2", "c12", "crowbar", "J1", title = "the current, from X1 to J1; Q1 and Q2 are in parallel" }
chain "regulator" { "aux", "J9.1", "reference", "J9.2", "r33", "amp", "J9.3", "q3", "Q3", title = "what drives it" }

-- Every element at its worst at once is still no fault, and neither is what the meter is wrong by.
local function banded(wider)
  return { "volts", worst = true, wider = wider }
end

-- Every figure below is for both knobs fully clockwise: 40 V, 2.5 A.
local full = { volts = "clockwise", current = "clockwise" }

-- What a volt reading from outside needs: prods, J1 against its own minus terminal, J9 against its common pin.
local function at_j1()
  return { "volts", at = "J1", against = "J1 minus", hookup = "prods", plausible = "-1 V .. 70 V" }
end
local function at_j9(pin)
  return { "volts", at = "J9." .. pin, against = "J9 pin 5", hookup = "prods", settle = "1 s", plausible = "-15 V .. 15 V" }
end

---------------------------------------------------------------- mains side

step "lamp" {
  title = "Mains lamp",
  look = "What does the green lamp beside S1 do?",
  note = "It is fed from the +12 V auxiliary rail, so it tells of fuse, switch, transformer and U1 at once.",
  power = "on", minutes = 1,
  answers = {
    { "lit", "steady green", to = "settings", clears = { "fuse", "switch" } },
    { "dark", "nothing at all", to = "pull-f1" },
    { "smoke", "smoke, smell, hum or crackling", stop = true },
  },
}

step "pull-f1" {
  title = "Take out F1",
  act = "Draw the fuse drawer out of X1; it slides only with the mains lead out of the inlet. Lay F1 on the mat and read what is " ..
        "printed on it: T 1.25 A, 250 V.",
  outside = true, power = "dead", minutes = 2,
  next = "f1-ohms",
}

step "f1-ohms" {
  title = "F1 on the mat",
  read = { "ohms", at = "the fuse", against = "its other end", hookup = "prods", loose = true, plausible = "0 ohm .. 100 Mohm" },
  limits = "at most 2 ohm", minutes = 1, holds = "all",
  ok = { to = "primary-ohms", clears = { "fuse" } },
  high = { to = "primary-ohms", implicates = { "fuse" } },
  otherwise = "unclear",
}

step "primary-ohms" {
  title = "Primary of T1, from the inlet", see = "connectors",
  note = "About 22 ohm: less is shorted turns, open is S1 or the thermal cut-out.",
  read = { "ohms", at = "X1", against = "the inner contact of the fuse drawer", hookup = "prods", settle = "3 s",
           asks = "With the plug out, press S1 in, read from the neutral pin of X1 to the inner contact of the fuse drawer, and let S1 " ..
                  "out again." },
  limits = "18 ohm .. 28 ohm", minutes = 2,
  ok = { to = "fuse-whole", clears = { "switch" } },
  low = { to = "found-t1", clears = { "switch" }, implicates = { "t1" } },
  high = "s1-pole",
  otherwise = "unclear",
}

step "s1-pole" {
  title = "S1 under the mains guard", see = "board",
  read = { "continuity", at = "S1", against = "the other side of the same pole", hookup = "prods",
           asks = "Press S1 in and read each of its two poles; type the worse of the two." },
  limits = "at most 1 ohm", open = { "mains-guard" }, minutes = 8,
  ok = { to = "found-t1", clears = { "switch" }, implicates = { "t1" } },
  high = { to = "found-switch", implicates = { "switch" } },
  otherwise = "unclear",
}

step "fuse-whole" {
  title = "Dark lamp with a whole fuse?",
  uses = { f1 = "f1-ohms" },
  decide = function(v, outcome)
    return outcome.f1 == "ok" and "f1-back" or "part-bridge"
  end,
  to = { "f1-back", "part-bridge" },
}

step "f1-back" {
  title = "The whole F1 back",
  act = "Put F1 back into its drawer and shut it: it is not what keeps the lamp dark.",
  outside = true, power = "dead", minutes = 1,
  next = "p12-dark",
}

-- The lamp is no instrument; one prod away is the rail that feeds it.
step "p12-dark" {
  title = "Auxiliary supply, with the lamp dark",
  read = at_j9(1), expect = banded "0.25 dB", power = "on", minutes = 1,
  ok = { to = "settings", clears = { "aux" } }, high = { to = "found-aux", implicates = { "aux" } },
  low = "raw-dark",
  otherwise = "unclear",
}

---------------------------------------------------------------- raw supply, dead

step "part-bridge" {
  title = "Free the bridge",
  act = "Part P2, then pull the red W5 and the black W6 off C7. Leave the short across C7 itself.",
  note = "With C7 shorted and the winding in place every diode reads like its neighbour; freed, each reads alone.",
  zone = "inside", open = { "top-cover" }, power = "dead", minutes = 5,
  makes = { "p2-parted", "c7-lifted" },
  next = "secondary-ohms",
}

step "secondary-ohms" {
  title = "Secondary of T1", see = "board",
  read = { "ohms", at = "P2", against = "its other pin", hookup = "prods", settle = "3 s", plausible = "0 ohm .. 100 Mohm",
           asks = "Short the prods and note what they read; then read across P2, transformer side, and type the difference." },
  limits = "at most 1.6 ohm", open = { "top-cover" }, minutes = 2,
  ok = "bridge",
  high = { to = "found-secondary", implicates = { "t1" } },
  otherwise = "unclear",
}

-- One reading a diode, forward. A junction shows 0.35 to 0.8 V; less is a short, OL is open.
local diodes = {}
for i = 1, 4 do
  diodes[i] = { "D" .. i, "diode", at = "D" .. i, against = "its cathode", hookup = "prods", limits = "0.35 V .. 0.8 V",
                plausible = "0 V .. 3 V" }
end

step "bridge" {
  title = "Bridge rectifier, diode by diode",
  collect = diodes,
  open = { "top-cover" }, minutes = 4,
  ok = "raw-which",
  low = { to = "found-bridge", implicates = { "bridge" } },
  high = { to = "found-bridge", implicates = { "bridge" } },
  otherwise = "unclear",
}

step "raw-which" {
  title = "What brought us to the bridge?",
  uses = { raw = "raw-volts", dark = "raw-dark", ripple = "raw-loaded/ripple", dc = "raw-loaded/dc" },
  decide = function(v, outcome)
    if outcome.ripple == "high" then return "found-c7" end
    if outcome.raw == "low" or outcome.dark == "low" or outcome.dc == "low" then return "found-raw" end
    return "c7-alone"
  end,
  to = { { to = "found-c7", implicates = { "c7" } }, "found-raw", "c7-alone" },
}

step "c7-alone" {
  title = "C7 by itself",
  read = { "ohms", at = "the lifted C7", against = "its minus terminal", hookup = "prods", loose = true, settle = "60 s",
           plausible = "0 ohm .. 100 Mohm",
           asks = "Lift one end of the short, read across C7 until it stands still, and put the short back." },
  note = "The meter charges 10 mF through itself, so it climbs for a minute or two towards the 2.2 kohm of the bleeder. Far above that the " ..
         "bleeder is open: exchange it as well, it keeps the next pair of hands safe.",
  limits = "at least 1 kohm", open = { "top-cover" }, power = "dead", minutes = 4,
  ok = "new-f1",
  low = { to = "found-c7-short", implicates = { "c7" } },
  high = "new-f1",
  otherwise = "unclear",
}

step "new-f1" {
  title = "A new F1",
  replace = "F1", text = "T 1.25 A, 250 V, as printed beside the drawer, and nothing bigger. Lay the old one aside, and shut the drawer.",
  outside = true, power = "dead", minutes = 2, most = 1, beyond = "found-eats-fuses",
  voids = { "primary-ohms" }, cures = { "fuse" },
  next = "lamp-again",
}

step "lamp-again" {
  title = "Mains lamp with the new fuse",
  look = "Watch the green lamp for a minute. What does it do?",
  power = "on", minutes = 2,
  answers = {
    { "lit", "steady green", to = "settings" },
    { "dark", "dark again, at once or within the minute", to = "f1-again" },
    { "smoke", "smoke, smell, hum or crackling", stop = true },
  },
}

step "f1-again" {
  title = "The new F1",
  read = { "continuity", at = "F1", against = "its other end", hookup = "prods",
           asks = "Draw the drawer, read the new F1 from end to end, and shut the drawer again with F1 in it." },
  limits = "at most 2 ohm", power = "dead", outside = true, minutes = 2,
  ok = "p12-dark", high = { to = "found-eats-fuses", clears = { "fuse" } },
  otherwise = "unclear",
}

---------------------------------------------------------------- output, from outside

step "settings" {
  title = "As the owner left it",
  look = "Look at the marks. Where had the owner left VOLTS and CURRENT?",
  power = "any", minutes = 1,
  answers = {
    { "up", "both well up from their lower ends", to = "out-volts", clears = { "settings" } },
    { "down", "one of them at its lower end, or nearly so", to = "out-volts" },
  },
}

step "out-volts" {
  title = "Output, full scale, no load",
  read = at_j1(), expect = banded "0.06 dB",
  set = full, power = "on", minutes = 1,
  ok = { to = "load-on", clears = { "reference", "r33", "r34", "r35" } },
  low = { to = "p12", clears = { "settings" } }, high = { to = "p12", clears = { "settings" } },
  otherwise = "unclear",
}

step "p12" {
  title = "Auxiliary supply of the error amplifier",
  read = at_j9(1), expect = banded "0.25 dB", power = "on", minutes = 1,
  ok = { to = "limit-lamp", clears = { "aux" } },
  high = { to = "found-aux", implicates = { "aux" } },
  low = { to = "found-aux", implicates = { "aux" } },
  otherwise = "unclear",
}

step "limit-lamp" {
  title = "LIMIT lamp",
  look = "CURRENT fully clockwise, nothing connected: what does the red LIMIT lamp do?",
  set = full, power = "on", minutes = 1,
  answers = {
    { "dark", "dark", to = "how-low", clears = { "crowbar", "c12", "r41", "u4" } },
    { "lit", "lit, steady or flickering", to = "j1-ohms" },
  },
}

step "how-low" {
  title = "Wrong, or nothing?",
  read = at_j1(), reuse = "out-volts", limits = "at least 1 V",
  set = full, power = "on", minutes = 1,
  ok = "knob", low = "warm", otherwise = "unclear",
}

step "knob" {
  title = "Does the output follow VOLTS?",
  adjust = { "Turn VOLTS slowly from one end to the other and type what J1 shows at each stop. End with it fully clockwise again.",
             tries = 3, read = at_j1(), responds = "1 V" },
  outside = true, power = "on", minutes = 2,
  note = "An output that moves is regulated, only wrongly; one that does not is fed past the regulator, or the regulator does not see VOLTS.",
  ok = "warm", low = "ce-pass", unread = "unclear",
}

step "warm" {
  title = "Let U2 settle",
  wait = "3 min", text = "U2 drifts for three minutes from cold.",
  power = "on", next = "ref-label",
}

step "ref-label" {
  title = "Reference, as stamped",
  read = { "volts", unit = "V", asks = "Read the voltage stamped after REF on the label beside J9.", plausible = "4.9 V .. 5.1 V" },
  power = "any", minutes = 1, holds = "all",
  next = "reference", unread = "reference",
}

step "reference" {
  title = "Reference",
  read = at_j9(2),
  uses = { stamped = "ref-label" },
  limits = function(v)
    local volts = v.stamped or 5
    return { volts * 0.995, volts * 1.005 }
  end,
  power = "on", minutes = 1,
  note = "Half a percent either side of the label; of 5.00 V when the label cannot be read.",
  ok = { to = "which-half", clears = { "reference" } },
  low = { to = "found-reference", implicates = { "reference" } },
  high = { to = "found-reference", implicates = { "reference" } },
  otherwise = "unclear",
}

step "which-half" {
  title = "Nothing at all, or wrong?",
  uses = { out = "out-volts" },
  decide = function(v)
    if v.out and v.out < 1 then return "amp-out" end
    return "gain"
  end,
  to = { "amp-out", "gain" },
}

---------------------------------------------------------------- wrong, but regulated

step "gain" {
  title = "Output against reference", see = "connectors",
  read = {
    { "out", "volts", at = "J1", against = "J1 minus", hookup = "prods", plausible = "-1 V .. 70 V",
      asks = "With VOLTS fully clockwise, read volts at J1 against J1 minus." },
    { "ref", "volts", at = "J9.2", against = "J9 pin 5", hookup = "prods", plausible = "1 V .. 10 V" },
  },
  ratio = { "out", "ref" }, limits = "8 +/- 0.08",
  set = full, power = "on", minutes = 2,
  note = "Eight times the reference, whatever the reference is.",
  low = "trim", high = "trim", otherwise = "unclear",
}

step "trim" {
  title = "Full scale, R34",
  adjust = { "Mark where R34 stands. With VOLTS fully clockwise, turn it slowly through the hole beside J1, with the insulated trimmer, " ..
             "until J1 shows 40.0 V. Note how far you turned it.",
             tries = 5, read = at_j1() },
  limits = "40 V +/- 0.2 V",
  set = full, outside = true, power = "on", minutes = 4, cures = { "r34" },
  ok = { to = "found-r34", implicates = { "r34", "r35" } },
  low = { to = "found-divider", clears = { "r34" } },
  high = { to = "found-divider", clears = { "r34" } },
  otherwise = "unclear",
}

---------------------------------------------------------------- nothing at all, no limit

step "amp-out" {
  title = "Error amplifier output",
  read = at_j9(3), limits = "at least 8 V", power = "on", minutes = 1,
  note = "With the output missing a healthy U3 drives as hard as it can, to about 10 V.",
  ok = { to = "raw-volts", clears = { "amp", "r33" } },
  low = { to = "found-amp", implicates = { "amp", "r33" } },
  otherwise = "unclear",
}

step "raw-volts" {
  title = "Raw supply at C7", see = "board",
  read = { "volts", at = "C7", against = "its minus terminal", hookup = "clip leads", settle = "2 s", plausible = "-1 V .. 70 V" },
  limits = "50 V .. 62 V",
  power = "on", open = { "top-cover" }, attach = "dead", minutes = 8,
  note = "56 V without load; the line may stand 10 % high. Clips go on while it is proved dead, hands stay out once it is on.",
  ok = "be-q3", high = "be-q3", low = "part-bridge",
  otherwise = "unclear",
}

-- U1 lives on the raw supply: without that it is dark as well.
step "raw-dark" {
  title = "Raw supply at C7, with the lamp dark", see = "board",
  read = { "volts", at = "C7", against = "its minus terminal", hookup = "clip leads", settle = "2 s", plausible = "-1 V .. 70 V" },
  limits = "at least 50 V",
  power = "on", open = { "top-cover" }, attach = "dead", minutes = 8,
  note = "56 V when it is there. Clips go on while it is proved dead, hands stay out once it is on.",
  ok = { to = "found-aux", clears = { "t1", "bridge", "c7" }, implicates = { "aux" } },
  low = { to = "part-bridge", clears = { "aux" } },
  otherwise = "unclear",
}

step "be-q3" {
  title = "Q3, base to emitter", see = "board",
  read = { "diode", at = "Q3", against = "its emitter", hookup = "prods", plausible = "0 V .. 3 V" },
  limits = "0.4 V .. 0.8 V", open = { "top-cover" }, minutes = 3,
  note = "1 kohm sits across each junction in here, too much to hide it.",
  ok = "be-pass",
  low = { to = "found-driver", implicates = { "q3" } },
  high = { to = "found-driver", implicates = { "q3" } },
  otherwise = "unclear",
}

local pair = {}
for i = 1, 2 do
  pair[i] = { "Q" .. i, "diode", at = "Q" .. i, against = "its emitter", hookup = "prods", limits = "0.4 V .. 0.8 V",
              plausible = "0 V .. 3 V" }
end

step "be-pass" {
  title = "Q1 and Q2, base to emitter",
  collect = pair, open = { "top-cover" }, minutes = 3,
  ok = "found-pass-side",
  low = { to = "found-pass", implicates = { "q1", "q2" } },
  high = { to = "found-pass", implicates = { "q1", "q2" } },
  otherwise = "unclear",
}

---------------------------------------------------------------- an output that does not follow

-- Collector to emitter with C7 shorted: only the load resistors of the output are left beside the transistor.
local function collector_emitter(id, of, title, t)
  step(id) {
    title = title,
    read = { "ohms", at = of, against = "its emitter", hookup = "prods", settle = "3 s", plausible = "0 ohm .. 100 Mohm" },
    limits = "at least 300 ohm", open = { "top-cover" }, minutes = 3,
    low = t.short, ok = t.whole, high = t.whole, otherwise = "unclear",
  }
end

collector_emitter("ce-pass", "Q1", "Q1 and Q2, collector to emitter", {
  short = { to = "found-pass", implicates = { "q1", "q2" } },
  whole = { to = "ce-q3", clears = { "q1", "q2" } },
})
collector_emitter("ce-q3", "Q3", "Q3, collector to emitter", {
  short = { to = "found-driver", implicates = { "q3" } },
  whole = { to = "found-drive", clears = { "q3" }, implicates = { "amp", "r33", "r35" } },
})

---------------------------------------------------------------- in limit with nothing connected

step "j1-ohms" {
  title = "Across the output, dead", see = "connectors",
  read = { "ohms", at = "J1", against = "J1 minus", hookup = "prods", settle = "3 s", plausible = "0 ohm .. 100 Mohm" },
  limits = "at least 300 ohm", zone = "inside", open = { "top-cover" }, minutes = 6,
  note = "About 900 ohm of divider and bleeder.",
  low = { to = "part-p7", clears = { "r41", "u4" } },
  ok = { to = "limit-volts", clears = { "crowbar", "c12" } },
  high = { to = "limit-volts", clears = { "crowbar", "c12" } },
  otherwise = "unclear",
}

step "part-p7" {
  title = "Part the crowbar",
  act = "Part P7, the two-pole plug of the crowbar board.",
  zone = "inside", open = { "top-cover" }, power = "dead", minutes = 2,
  makes = { "p7-parted" },
  next = "j1-without",
}

step "j1-without" {
  title = "Across the output, crowbar parted", see = "connectors",
  read = { "ohms", at = "J1", against = "J1 minus", hookup = "prods", settle = "3 s", plausible = "0 ohm .. 100 Mohm" },
  limits = "at least 300 ohm", zone = "inside", open = { "top-cover" }, minutes = 2,
  ok = { to = "found-crowbar", clears = { "c12" }, implicates = { "crowbar" } },
  high = { to = "found-crowbar", clears = { "c12" }, implicates = { "crowbar" } },
  low = { to = "found-c12", clears = { "crowbar" }, implicates = { "c12" } },
  otherwise = "unclear",
}

-- The setting is a part of the reference, so that is read with it.
step "limit-volts" {
  title = "Current-limit setting, CURRENT fully clockwise",
  collect = {
    { "ref", "volts", at = "J9.2", against = "J9 pin 5", hookup = "prods", settle = "1 s", expect = banded "0.2 dB",
      plausible = "-1 V .. 10 V" },
    { "set", "volts", at = "J9.4", against = "J9 pin 5", hookup = "prods", settle = "1 s", expect = banded "0.2 dB",
      plausible = "-1 V .. 10 V" },
  },
  set = full, power = "on", with = { "load-on" }, minutes = 2,
  note = "1 V an ampere: 2.5 V are 2.5 A.",
  decide = function(v, outcome)
    if outcome.ref == "low" or outcome.ref == "high" then return "found-reference" end
    if outcome.ref ~= "ok" then return "unclear" end
    if outcome.set == "low" then return "found-r41" end
    return (outcome.set == "ok" or outcome.set == "high") and "found-u4" or "unclear"
  end,
  to = { { to = "found-reference", implicates = { "reference" } }, { to = "found-r41", clears = { "reference" }, implicates = { "r41" } },
         { to = "found-u4", clears = { "reference", "r41" }, implicates = { "u4" } }, "unclear" },
}

---------------------------------------------------------------- sags under load

step "load-on" {
  title = "Load it",
  act = "Connect the 20 ohm, 100 W load across J1, standing clear of everything that melts: it gets 80 W.",
  outside = true, power = "off", minutes = 2,
  makes = { "load-on" },
  next = "loaded-volts",
}

step "loaded-volts" {
  title = "Output under load, VOLTS and CURRENT fully clockwise",
  read = at_j1(), expect = banded "0.06 dB", set = full, power = "on", with = { "load-on" }, minutes = 1,
  ok = "what-helped", high = "what-helped", low = { to = "limit-loaded", clears = { "settings" } }, otherwise = "unclear",
}

-- The output is right now, without a load and with one: what has been changed since the fault was shown?
step "what-helped" {
  title = "What put it right?",
  uses = { f1 = "f1-ohms", settings = "settings" },
  decide = function(v, outcome)
    if outcome.f1 == "high" then return "found-fuse" end
    return v.settings == "down" and "found-settings" or "not-shown"
  end,
  to = { { to = "found-fuse", implicates = { "fuse" } }, { to = "found-settings", implicates = { "settings" } }, "not-shown" },
}

-- An output that only limits sags as well, and has nothing wrong with it.
step "limit-loaded" {
  title = "LIMIT lamp under load",
  look = "The load draws 2 A at 40 V, and CURRENT allows 2.5 A: what does the red LIMIT lamp do?",
  set = full, power = "on", with = { "load-on" }, minutes = 1,
  answers = {
    { "dark", "dark", to = "raw-loaded", clears = { "r41", "u4", "crowbar", "c12" } },
    { "lit", "lit, steady or flickering", to = "limit-volts", clears = { "crowbar", "c12" } },
  },
}

step "raw-loaded" {
  title = "Raw supply at C7 under load", see = "board",
  collect = {
    { "dc", "volts", at = "C7", against = "its minus terminal", hookup = "clip leads", settle = "5 s", limits = "at least 45 V",
      plausible = "-1 V .. 70 V" },
    { "ripple", "ac volts", at = "C7", against = "its minus terminal", hookup = "clip leads", settle = "5 s", limits = "at most 0.9 V",
      plausible = "0 V .. 30 V" },
  },
  power = "on", open = { "top-cover" }, with = { "load-on" }, attach = "dead", minutes = 8,
  note = "The regulator wants 4 V above the output. 2 A out of 10 mF at 100 Hz leave 2 V peak to peak, 0.6 V rms; twice that is one diode " ..
         "missing, much more a dried C7.",
  decide = function(v, outcome)
    if outcome.ripple == "high" or outcome.dc == "low" then return "part-bridge" end
    return outcome.dc == "ok" and outcome.ripple == "ok" and "amp-loaded" or "unclear"
  end,
  to = { "part-bridge", { to = "amp-loaded", clears = { "t1", "bridge", "c7" } }, "unclear" },
}

step "amp-loaded" {
  title = "Error amplifier output under load",
  read = at_j9(3), limits = "at least 8 V", power = "on", open = { "top-cover" }, with = { "load-on" }, minutes = 1,
  note = "With the output under its setting a healthy U3 drives as hard as it can, to about 10 V.",
  ok = { to = "be-q3", clears = { "amp" } },
  low = { to = "found-amp-weak", implicates = { "amp" } },
  otherwise = "unclear",
}

---------------------------------------------------------------- ends

local function found(id, t)
  step("found-" .. id)(t)
end

found("fuse", { finding = { "fuse" }, title = "F1 had blown; the new one holds",
  proof = "F1 read open on the mat, primary, bridge and C7 read no short, and with a new F1 the output is right without a load and with one.",
  not_tested = "Why it blew. Run it an hour at 2 A before it goes back." })
found("switch", { finding = { "switch" }, title = "S1, mains switch",
  proof = "The primary reads open from the inlet, and a pole of S1 reads open when pressed in." })
found("t1", { finding = { "t1" }, title = "T1, mains transformer",
  proof = "Read from the inlet, the primary is not 18 to 28 ohm, and S1 makes contact.",
  not_tested = "Whether the thermal cut-out comes back when T1 is cold: give it an hour before you order one." })
found("secondary", { finding = { "t1" }, title = "T1, its secondary", proof = "Across P2, parted, the winding reads over 1.6 ohm.",
  not_tested = "The plug itself: look at its pins first." })
found("bridge", { finding = { "bridge" }, title = "Bridge rectifier",
  proof = "A diode of the freed bridge reads short or open.",
  advice = "Exchange all four: the others have carried its share." })
found("c7", { finding = { "c7" }, title = "C7, reservoir, dried",
  proof = "Under load the ripple at C7 is over 0.9 V, and all four diodes read whole.",
  not_tested = "The bridge under load, with a new C7." })
found("c7-short", { finding = { "c7" }, title = "C7, reservoir, shorted",
  proof = "F1 had blown, all four diodes read whole, and C7 by itself reads under 1 kohm.",
  not_tested = "F1 and the bridge, with a new C7." })
found("raw", { finding = { "t1", "bridge", "c7" }, separated = false, title = "Raw supply, not separated",
  proof = "The voltage at C7 is low, its ripple is not, and the secondary and all four diodes read whole.",
  not_tested = "T1 under load, and the mains: read the line first." })
found("eats-fuses", { finding = { "t1", "bridge", "c7" }, separated = false, title = "It eats fuses, and nothing reads shorted",
  proof = "A new F1 read open after its first minute, with primary, bridge and C7 whole on the meter.",
  not_tested = "What breaks down only under voltage.",
  advice = "Not another fuse. Bring it up through the lamp limiter, with a second person there." })
found("aux", { finding = { "aux" }, title = "U1, +12 V auxiliary supply",
  proof = "J9 pin 1 is not at +12 V within 5 %, and the lamp was lit or the raw supply at C7 is there." })
found("reference", { finding = { "reference" }, title = "U2, reference",
  proof = "J9 pin 2 differs by more than half a percent from what is stamped on the label, with +12 V right.",
  not_tested = "Full scale with a new U2: R34 wants setting, and the label a new figure." })
found("amp", { finding = { "amp", "r33" }, separated = false, title = "U3, or VOLTS tells it nothing",
  proof = "The output is missing, +12 V and reference are right, and J9 pin 3 stays under 8 V.",
  not_tested = "R33: an open track asks U3 for nothing, and U3 obeys. Read it dead, out of circuit, before U3 is exchanged." })
found("amp-weak", { finding = { "amp" }, title = "U3, error amplifier",
  proof = "Under load the output sags, LIMIT is dark, the raw supply is right, and J9 pin 3 stays under 8 V." })
found("drive", { finding = { "amp", "r33", "r35" }, separated = false, title = "U3 or what tells it, not separated",
  proof = "The output does not follow VOLTS, and no transistor of the pass stage reads short from collector to emitter.",
  not_tested = "R33 and R35 out of circuit: an open one looks like a stuck U3. Read them before U3 is exchanged." })
found("pass", { finding = { "q1", "q2" }, separated = false, title = "Q1 or Q2, pass transistors",
  proof = "Read dead, the pair is short or open where it should not be; the two stand in parallel.",
  not_tested = "Which of the two: lift one emitter lead and read again.",
  advice = "Exchange both as a pair, with new washers; they share current only when they match." })
found("driver", { finding = { "q3" }, title = "Q3, driver",
  proof = "Read dead, Q3 is short or open where it should not be." })
found("pass-side", { finding = { "q1", "q2", "q3" }, separated = false, title = "Pass stage, not separated",
  proof = "The voltage at C7 and the drive at J9 pin 3 are right, the junctions read whole, and the output is low.",
  not_tested = "Gain of the transistors under current; the emitter resistors." })
found("r34", { finding = { "r34", "r35" }, separated = false, title = "Full scale, brought back with R34",
  proof = "Output over reference was not eight, and turning R34 brought full scale back to 40.0 V.",
  not_tested = "Whether R34 had moved or R35 has drifted: turning R34 hides that. R34 stands turned.",
  advice = "Read full scale again after an hour. If it has moved, it is R35; if it holds, seal R34." })
found("divider", { finding = { "r33", "r35" }, separated = false, title = "VOLTS potentiometer or feedback divider",
  proof = "Output over reference is not eight, and R34 cannot bring it there.",
  not_tested = "R33 and R35 out of circuit.", advice = "R34 was turned: set it again after the repair." })
found("crowbar", { finding = { "crowbar" }, title = "Q9, crowbar thyristor",
  proof = "The output reads short until P7 is parted.",
  advice = "A crowbar dies of being fired: ask what was connected." })
found("c12", { finding = { "c12" }, title = "C12, output capacitor",
  proof = "The output reads short with the crowbar parted.",
  not_tested = "A wire end or a blob of solder between the terminals reads the same: look first." })
found("r41", { finding = { "r41" }, title = "R41, CURRENT potentiometer",
  proof = "LIMIT is lit, and J9 pin 4 is under 2.5 V with CURRENT fully clockwise and the reference right." })
found("u4", { finding = { "u4" }, title = "U4, current-limit comparator",
  proof = "LIMIT is lit far below the 2.5 A that J9 pin 4 sets.", not_tested = "The sense resistor R20, 0.1 ohm." })
found("settings", { finding = { "settings" }, title = "It was turned down",
  proof = "VOLTS or CURRENT stood at its lower end, and with both clockwise the output is right without a load and with one.",
  advice = "Tell the owner; nothing was replaced." })

step "not-shown" {
  finding = "The fault does not show", suspects = {}, title = "The fault does not show",
  proof = "The fault never showed as the owner has it, or the output was right without a load and with one, with nothing put right.",
  advice = "Ask the owner when it happens; heat and a long run at 2 A come next.",
}
step "unclear" {
  finding = "Not separated", suspects = {}, title = "Stopped: no clear reading",
  proof = "A reading this isolation stands on could not be taken, lay on its limit, or disagrees with another.",
  not_tested = "Everything still open in the list of suspects.",
  advice = "Mend the hookup or take a finer meter, and start again.",
}
