-- No output, or not what VOLTS says, of an Orrin Vale Copse. The chain is halved at C7: raw supply before it, regulator after it.
require "family"

playbook {
  id = "copse/no-output", edition = 1,
  title = "Copse bench supply: no output, or the wrong one",
  family = "Orrin Vale Copse",
  first = {
    "Take everything off J1. A charged load feeds back into the output and hides what the supply itself does.",
    "Write down where VOLTS and CURRENT stand; the owner may have a job set up.",
    "F1 is 1.25 A slow. If somebody fitted a bigger one, leave the unit off and write it down.",
  },
  symptom = {
    "the output at J1 is missing, wrong, or in current limit with nothing connected",
    under = "mains on, nothing at J1, VOLTS and CURRENT fully clockwise, one minute",
    power = "on", tries = 2, absent = "not-shown",
  },
  enter = {
    { "none", "no output at all", to = "lamp" },
    { "wrong", "an output, but not what VOLTS says, or it sags under load", to = "out-volts" },
    { "limits", "the red LIMIT lamp is lit with nothing connected", to = "j1-ohms" },
  },
}

suspect "fuse"      { title = "F1, mains fuse", modes = { "open" }, odds = 3 }
suspect "switch"    { title = "S1, mains switch", modes = { "open pole" } }
suspect "t1"        { title = "T1, mains transformer", modes = { "thermal cut-out open", "shorted turns", "secondary open" } }
suspect "bridge"    { title = "D1 to D4, bridge rectifier", modes = { "diode short", "diode open" }, odds = 3 }
suspect "c7"        { title = "C7, reservoir", modes = { "dried", "short" }, odds = 4 }
suspect "aux"       { title = "U1, +12 V auxiliary supply", modes = { "dead", "low" }, odds = 2 }
suspect "reference" { title = "U2, 5 V reference", modes = { "dead", "drifted" } }
suspect "amp"       { title = "U3, error amplifier", modes = { "stuck low", "stuck high" }, odds = 2 }
suspect "q1"        { title = "Q1, pass transistor", modes = { "short", "open" }, odds = 3 }
suspect "q2"        { title = "Q2, pass transistor", modes = { "short", "open" }, odds = 3 }
suspect "q3"        { title = "Q3, driver", modes = { "short", "open" }, odds = 2 }
suspect "r34"       { title = "R34, full-scale trimmer, out of adjustment", modes = { "shifted" }, odds = 2 }
suspect "r33"       { title = "R33, VOLTS potentiometer", modes = { "worn", "open" } }
suspect "r35"       { title = "R35, feedback divider", modes = { "high", "open" } }
suspect "r41"       { title = "R41, CURRENT potentiometer", modes = { "worn", "open" } }
suspect "u4"        { title = "U4, current-limit comparator", modes = { "stuck" } }
suspect "crowbar"   { title = "Q9, crowbar thyristor", modes = { "short" }, odds = 2 }
suspect "c12"       { title = "C12, output capacitor", modes = { "short" } }

-- The current's way, for `show`.
chain "power" { "X1", "fuse", "switch", "t1", "P2", "bridge", "C7", "c7", "q1", "q2", "c12", "crowbar", "J1", title = "the current, from X1 to J1; Q1 and Q2 are in parallel" }
chain "regulator" { "aux", "J9.1", "reference", "J9.2", "r33", "amp", "J9.3", "q3", "Q3", title = "what drives it" }

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
    { "lit", "steady green", to = "out-volts", clears = { "fuse", "switch" } },
    { "dark", "nothing at all", to = "pull-f1" },
    { "smoke", "smoke, smell, hum or crackling", stop = true },
  },
}

step "pull-f1" {
  title = "Take out F1",
  act = "Draw the fuse drawer out of X1 and lay F1 on the mat.",
  outside = true, power = "dead", minutes = 2,
  note = "The drawer slides only with the mains lead out of the inlet. Read what is printed on the fuse: T 1.25 A, 250 V.",
  next = "f1-ohms",
}

step "f1-ohms" {
  title = "F1 on the mat",
  read = { "ohms", at = "the fuse", against = "its other end", hookup = "prods", loose = true, plausible = "0 ohm .. 100 Mohm" },
  limits = "at most 2 ohm", minutes = 1, holds = "all",
  ok = { to = "primary-ohms", clears = { "fuse" } },
  high = { to = "primary-ohms", implicates = { "fuse" } },
  otherwise = "found-mains",
}

step "primary-ohms" {
  title = "Primary of T1, from the inlet", see = "connectors",
  note = "Press S1 in for this reading and let it out again afterwards. About 22 ohm: less is shorted turns, open is S1 or the thermal cut-out.",
  read = { "ohms", at = "X1", against = "the inner contact of the fuse drawer", hookup = "prods", settle = "3 s",
           asks = "With the plug out and S1 pressed in, read from the neutral pin of X1 to the inner contact of the fuse drawer." },
  limits = "18 ohm .. 28 ohm", minutes = 2,
  ok = { to = "fuse-whole", clears = { "switch" } },
  low = { to = "found-t1", implicates = { "t1" } },
  high = "s1-pole",
  otherwise = "found-mains",
}

step "s1-pole" {
  title = "S1 under the mains guard", see = "board",
  read = { "continuity", at = "S1", against = "the other side of the same pole", hookup = "prods",
           asks = "Press S1 in and read each of its two poles; type the worse of the two." },
  limits = "at most 1 ohm", open = { "mains-guard" }, minutes = 8,
  ok = { to = "found-t1", clears = { "switch" }, implicates = { "t1" } },
  high = { to = "found-switch", implicates = { "switch" } },
  otherwise = "found-mains",
}

step "fuse-whole" {
  title = "Dark lamp with a whole fuse?",
  uses = { f1 = "f1-ohms" },
  decide = function(v)
    -- An open fuse reads OL, which is no number.
    if v.f1 and v.f1 <= 2 then return "found-aux" end
    return "part-bridge"
  end,
  to = { { to = "found-aux", implicates = { "aux" } }, "part-bridge" },
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
  high = { to = "found-t1", implicates = { "t1" } },
  otherwise = "found-raw",
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
  ok = { to = "raw-which", clears = { "bridge" } },
  low = { to = "found-bridge", implicates = { "bridge" } },
  high = { to = "found-bridge", implicates = { "bridge" } },
  otherwise = "found-raw",
}

step "raw-which" {
  title = "What brought us to the bridge?",
  uses = { lamp = "lamp", ripple = "ripple" },
  decide = function(v)
    if v.lamp == "dark" then return "c7-alone" end
    if v.ripple and v.ripple > 0.9 then return "found-c7" end
    return "found-raw"
  end,
  to = { "c7-alone", { to = "found-c7", implicates = { "c7" } }, "found-raw" },
}

step "c7-alone" {
  title = "C7 by itself",
  read = { "ohms", at = "the lifted C7", against = "its minus terminal", hookup = "prods", loose = true, settle = "60 s",
           plausible = "0 ohm .. 100 Mohm",
           asks = "Lift one end of the short, read across C7 until it stands still, and put the short back." },
  note = "The meter charges 10 mF through itself, so it climbs for a minute or two towards the 2.2 kohm of the bleeder. Far above that the " ..
         "bleeder is open: exchange it as well, it keeps the next pair of hands safe.",
  limits = "at least 1 kohm", open = { "top-cover" }, power = "dead", minutes = 4,
  ok = { to = "new-f1", clears = { "c7" } },
  low = { to = "found-c7-short", implicates = { "c7" } },
  high = "new-f1",
  otherwise = "found-raw",
}

step "new-f1" {
  title = "A new F1",
  replace = "F1", text = "T 1.25 A, 250 V, as printed beside the drawer, and nothing bigger. Lay the old one aside, and shut the drawer.",
  outside = true, power = "dead", minutes = 2, most = 2, beyond = "found-eats-fuses",
  next = "lamp-again",
}

step "lamp-again" {
  title = "Mains lamp with the new fuse",
  look = "Watch the green lamp for a minute. What does it do?",
  power = "on", minutes = 2,
  answers = {
    { "lit", "steady green", to = "found-fuse" },
    { "dark", "dark again, at once or within the minute", to = "new-f1" },
    { "smoke", "smoke, smell, hum or crackling", stop = true },
  },
}

---------------------------------------------------------------- output, from outside

step "out-volts" {
  title = "Output, full scale, no load",
  read = at_j1(), limits = "40 V +/- 1 %",
  power = "on", minutes = 1,
  note = "VOLTS and CURRENT fully clockwise, nothing connected.",
  ok = "load-on", low = "how-low", high = "knob", unsure = "knob", unread = "unread",
}

step "how-low" {
  title = "Low, or nothing?",
  read = at_j1(), reuse = "out-volts", limits = "at least 1 V",
  power = "on", minutes = 1,
  ok = "knob", low = "limit-lamp", otherwise = "unread",
}

step "limit-lamp" {
  title = "LIMIT lamp",
  look = "Nothing is connected. What does the red LIMIT lamp do?",
  power = "on", minutes = 1,
  answers = {
    { "dark", "dark", to = "p12", clears = { "crowbar", "c12", "r41", "u4" } },
    { "lit", "lit, steady or flickering", to = "j1-ohms", clears = { "aux" } },
  },
}

step "knob" {
  title = "Does the output follow VOLTS?",
  adjust = { "Turn VOLTS slowly from one end to the other and type what J1 shows at each stop.", tries = 3, read = at_j1(), responds = "1 V" },
  outside = true, power = "on", minutes = 2,
  note = "An output that moves is regulated, only wrongly; one that does not is fed past the regulator or not at all.",
  ok = { to = "p12", clears = { "q1", "q2", "q3", "crowbar", "c12", "bridge" } },
  low = "ce-pass", unread = "unread",
}

step "p12" {
  title = "Auxiliary supply of the error amplifier",
  read = at_j9(1), limits = "12 V +/- 5 %", power = "on", minutes = 1,
  ok = { to = "warm", clears = { "aux" } },
  high = { to = "found-aux", implicates = { "aux" } },
  low = { to = "found-aux", implicates = { "aux" } },
  otherwise = "unread",
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
  unsure = "which-half", unread = "unread",
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
    { "out", "volts", at = "J1", against = "J1 minus", hookup = "prods", plausible = "-1 V .. 70 V" },
    { "ref", "volts", at = "J9.2", against = "J9 pin 5", hookup = "prods", plausible = "1 V .. 10 V" },
  },
  ratio = { "out", "ref" }, limits = "8 +/- 0.08",
  power = "on", minutes = 2,
  note = "VOLTS fully clockwise again. Eight times the reference, whatever the reference is.",
  ok = "not-shown",
  low = "trim", high = "trim", unsure = "trim", unread = "unread",
}

step "trim" {
  title = "Full scale, R34",
  adjust = { "With VOLTS fully clockwise, turn R34 slowly through the hole beside J1, with the insulated trimmer, until J1 shows 40.0 V.",
             tries = 5, read = at_j1() },
  limits = "40 V +/- 0.2 V",
  outside = true, power = "on", minutes = 4,
  ok = { to = "found-r34", implicates = { "r34" } },
  low = { to = "found-divider", clears = { "r34" } },
  high = { to = "found-divider", clears = { "r34" } },
  otherwise = "found-divider",
}

---------------------------------------------------------------- nothing at all, no limit

step "amp-out" {
  title = "Error amplifier output",
  read = at_j9(3), limits = "at least 8 V", power = "on", minutes = 1,
  note = "With the output missing a healthy U3 drives as hard as it can, to about 10 V.",
  ok = { to = "raw-volts", clears = { "amp" } },
  low = { to = "found-amp", implicates = { "amp" } },
  high = { to = "raw-volts", clears = { "amp" } },
  otherwise = "unread",
}

step "raw-volts" {
  title = "Raw supply at C7", see = "board",
  read = { "volts", at = "C7", against = "its minus terminal", hookup = "clip leads", settle = "2 s", plausible = "-1 V .. 70 V" },
  limits = "50 V .. 62 V",
  power = "on", open = { "top-cover" }, attach = "dead", minutes = 8,
  note = "56 V without load; the line may stand 10 % high. Clips go on while it is proved dead, hands stay out once it is on.",
  ok = { to = "be-q3", clears = { "t1", "bridge", "c7" } },
  low = "part-bridge",
  high = { to = "be-q3", clears = { "t1", "bridge", "c7" } },
  unsure = "be-q3", unread = "unread",
}

step "be-q3" {
  title = "Q3, base to emitter", see = "board",
  read = { "diode", at = "Q3", against = "its emitter", hookup = "prods", plausible = "0 V .. 3 V" },
  limits = "0.4 V .. 0.8 V", open = { "top-cover" }, minutes = 3,
  note = "1 kohm sits across each junction in here, too much to hide it.",
  ok = { to = "be-pass", clears = { "q3" } },
  low = { to = "found-driver", implicates = { "q3" } },
  high = { to = "found-driver", implicates = { "q3" } },
  otherwise = "found-pass-side",
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
  otherwise = "found-pass-side",
}

---------------------------------------------------------------- an output that does not follow

-- Collector to emitter with C7 shorted: only the load resistors of the output are left beside the transistor.
local function collector_emitter(id, of, title, t)
  step(id) {
    title = title,
    read = { "ohms", at = of, against = "its emitter", hookup = "prods", settle = "3 s", plausible = "0 ohm .. 100 Mohm" },
    limits = "at least 300 ohm", open = { "top-cover" }, minutes = 3,
    low = t.short, ok = t.whole, high = t.whole, otherwise = "found-pass-side",
  }
end

collector_emitter("ce-pass", "Q1", "Q1 and Q2, collector to emitter", {
  short = { to = "found-pass", implicates = { "q1", "q2" } },
  whole = { to = "ce-q3", clears = { "q1", "q2" } },
})
collector_emitter("ce-q3", "Q3", "Q3, collector to emitter", {
  short = { to = "found-driver", implicates = { "q3" } },
  whole = { to = "found-amp", clears = { "q3" }, implicates = { "amp" } },
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
  otherwise = "found-limit",
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
  otherwise = "found-limit",
}

step "limit-volts" {
  title = "Current-limit setting",
  read = at_j9(4), limits = "2.5 V +/- 4 %", power = "on", minutes = 2,
  note = "CURRENT fully clockwise: 1 V an ampere, 2.5 A.",
  ok = { to = "found-u4", clears = { "r41" }, implicates = { "u4" } },
  high = { to = "found-u4", clears = { "r41" }, implicates = { "u4" } },
  low = { to = "found-r41", implicates = { "r41" } },
  otherwise = "found-limit",
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
  title = "Output under load",
  read = at_j1(), limits = "40 V +/- 1 %", power = "on", with = { "load-on" }, minutes = 1,
  ok = "not-shown", high = "not-shown", low = "ripple", unsure = "ripple", unread = "unread",
}

step "ripple" {
  title = "Ripple at C7 under load", see = "board",
  read = { "ac volts", at = "C7", against = "its minus terminal", hookup = "clip leads", settle = "5 s", plausible = "0 V .. 30 V" },
  limits = "at most 0.9 V",
  power = "on", open = { "top-cover" }, with = { "load-on" }, attach = "dead", minutes = 8,
  note = "2 A out of 10 mF at 100 Hz leaves 2 V peak to peak, 0.6 V rms. Twice that is one diode missing, much more a dried C7.",
  high = "part-bridge",
  ok = { to = "found-pass-side", clears = { "c7", "bridge", "t1" } },
  low = { to = "found-pass-side", clears = { "c7", "bridge", "t1" } },
  unsure = "part-bridge", unread = "unread",
}

---------------------------------------------------------------- ends

-- Whatever was found, the knobs go back to where the owner had them.
local function found(id, t)
  t.advice = (t.advice and t.advice .. " " or "") .. "Turn VOLTS and CURRENT back to where they stood."
  step("found-" .. id)(t)
end

found("fuse", { finding = { "fuse" }, title = "F1 had blown; the new one holds",
  proof = "F1 read open on the mat, nothing behind it is shorted, and the lamp stays lit with a new fuse.",
  not_tested = "Why it blew. Run it an hour at 2 A before it goes back." })
found("switch", { finding = { "switch" }, title = "S1, mains switch",
  proof = "The primary reads open from the inlet, and a pole of S1 reads open when pressed in." })
found("t1", { finding = { "t1" }, title = "T1, mains transformer",
  proof = "A winding is open with S1 whole, or the primary reads far under 22 ohm.",
  not_tested = "Whether the thermal cut-out comes back when T1 is cold: give it an hour before you order one." })
found("mains", { finding = { "fuse", "switch", "t1", "aux" }, separated = false, title = "Mains side, not separated",
  proof = "The lamp stays dark.", not_tested = "A reading on the mains side could not be taken, or lies on its limit." })
found("bridge", { finding = { "bridge" }, title = "Bridge rectifier",
  proof = "A diode of the freed bridge reads short or open.",
  advice = "Exchange all four: the others have carried its share." })
found("c7", { finding = { "c7" }, title = "C7, reservoir, dried out",
  proof = "All four diodes are whole, and the ripple across C7 is high under load.",
  not_tested = "The ripple with a new C7." })
found("c7-short", { finding = { "c7" }, title = "C7, reservoir, shorted",
  proof = "All four diodes are whole, and C7 by itself reads far under its bleeder.",
  not_tested = "F1 and the bridge under load, with a new C7." })
found("raw", { finding = { "t1", "bridge", "c7" }, separated = false, title = "Raw supply, not separated",
  proof = "The trouble lies before C7.",
  not_tested = "The readings that would have told these apart could not be taken, or all lie within limits." })
found("eats-fuses", { finding = { "t1", "bridge", "c7" }, separated = false, title = "It eats fuses, and nothing reads shorted",
  proof = "Two new fuses blew with primary, bridge and C7 whole on the meter.",
  not_tested = "What breaks down only under voltage.",
  advice = "Not a third fuse. Bring it up through the lamp limiter, with a second person there." })
found("aux", { finding = { "aux" }, title = "U1, +12 V auxiliary supply",
  proof = "+12 V is wrong at J9, or the lamp it feeds is dark with fuse and primary whole.",
  advice = "If F1 lies on the mat, put it back." })
found("reference", { finding = { "reference" }, title = "U2, reference",
  proof = "The reference differs from its label by more than half a percent, with its supply right.",
  not_tested = "Full scale with a new U2: R34 wants setting, and the label a new figure." })
found("amp", { finding = { "amp" }, title = "U3, error amplifier",
  proof = "It does not drive although the output is missing, or it drives a whole pass stage to the top." })
found("pass", { finding = { "q1", "q2" }, separated = false, title = "Q1 or Q2, pass transistors",
  proof = "A junction reads short or open, or collector to emitter reads short; the two stand in parallel.",
  not_tested = "Which of the two: lift one emitter lead and read again.",
  advice = "Exchange both as a pair, with new washers; they share current only when they match." })
found("driver", { finding = { "q3" }, title = "Q3, driver",
  proof = "A junction of Q3 reads short or open, or collector to emitter reads short." })
found("pass-side", { finding = { "q1", "q2", "q3" }, separated = false, title = "Pass stage, not separated",
  proof = "Raw supply and drive are right, or could not be told apart from it, and the output is not.",
  not_tested = "Gain of the transistors under current; the emitter resistors." })
found("r34", { finding = { "r34" }, title = "R34 was out of adjustment",
  proof = "Output over reference was not eight, and R34 brings full scale back to 40.0 V.",
  not_tested = "Why it moved, and whether R35 drifts: the trimmer hides that. Seal it, and look again when warm." })
found("divider", { finding = { "r33", "r35" }, separated = false, title = "VOLTS potentiometer or feedback divider",
  proof = "Output over reference is not eight, and R34 cannot bring it there.",
  not_tested = "R33 and R35 out of circuit." })
found("crowbar", { finding = { "crowbar" }, title = "Q9, crowbar thyristor",
  proof = "The output reads short until P7 is parted.",
  advice = "A crowbar dies of being fired: ask what was connected." })
found("c12", { finding = { "c12" }, title = "C12, output capacitor",
  proof = "The output reads short with the crowbar parted.",
  not_tested = "A wire end or a blob of solder between the terminals reads the same: look first." })
found("r41", { finding = { "r41" }, title = "R41, CURRENT potentiometer",
  proof = "The limit setting is under 2.5 V with CURRENT fully clockwise, and nothing shorts the output." })
found("u4", { finding = { "u4" }, title = "U4, current-limit comparator",
  proof = "It limits although the setting is right and nothing shorts the output.", not_tested = "The sense resistor R20, 0.1 ohm." })
found("limit", { finding = { "crowbar", "c12", "r41", "u4" }, separated = false, title = "Output or current limit, not separated",
  proof = "It limits with nothing connected.", not_tested = "The reading that would have told these apart gave no clear answer." })

step "not-shown" {
  finding = "The fault does not show", suspects = {}, title = "The fault does not show",
  proof = "The fault never showed under the stated conditions, or every output reading was right.",
  advice = "Ask the owner when it happens; heat and a long run at 2 A come next.",
}
step "unread" {
  finding = "A reading could not be taken", suspects = {}, title = "Stopped for want of a reading",
  proof = "A reading this isolation stands on could not be taken.",
  not_tested = "Everything after that reading.", advice = "Mend the hookup, then start again.",
}
