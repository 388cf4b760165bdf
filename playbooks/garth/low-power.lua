-- Low or no output power of a Tarnbeck Garth. The chain is halved at TP2, the drive of the final: before it milliwatts and two small
-- stages, behind it 50 W, a filter bank and everything that gets hot.
require "family"

-- It is not keyed to see the symptom: the first key-down of a run is a reading, with a load that was proved.
playbook {
  id = "garth/low-power", edition = 4,
  title = "Garth amplifier: output power low or absent",
  family = "Tarnbeck Garth",
  first = {
    "Take the antenna off J2 and leave it off: an antenna lead is no load, and what it picks up goes into your meter.",
    "Do not key it to see whether it is true. It is keyed when a load is on, and not before.",
    "Set the bench supply to 28 V, and its current limit to 8 A: a limit of 40 A turns a small fault into a burnt board.",
  },
  enter = {
    { "nothing", "no power at all, or nothing lights", to = "lamp" },
    { "low", "some power, but too little, in one band or in both", to = "load-check" },
    { "fades", "full power at first, then it sinks", to = "cool" },
  },
}

-- What each mode shows where the line-up does not tell of it: lamps, resistances, amperes, and a reflection; `healthy` says the rest.
local function dead(shows)
  shows["intake/entry"] = "nothing"
  return shows
end

suspect "feed-lead" { title = "the 28 V lead and P1", modes = { "high resistance", "open" }, odds = 3, shows = { open = dead { lamp = "dark" } } }
suspect "fuse" { title = "F1, 28 V fuse", modes = { "open", "poor contact" }, odds = 2,
  shows = { open = dead { lamp = "dark", ["f1-ohms"] = "OL" } } }
suspect "d1" { title = "D1, reverse-polarity diode", modes = { "short", "breaks down" }, odds = 2, shows = {
  short = dead { lamp = "limit", ["bus-limit"] = "1.2 ohm", ["bus-alone"] = "1.2 ohm" },
  ["breaks down"] = dead { lamp = "limit" } } }
suspect "reg" { title = "U1, 12 V regulator", modes = { "dead", "low" }, shows = { dead = dead { lamp = "dark" } } }
suspect "key-in" { title = "J3 and the key lead", modes = { "open" }, odds = 2, shows = {
  open = dead { ["key-lamp"] = "none", ["key-volts"] = "11.8 V" } } }
suspect "key-sw" { title = "Q7, key switch", modes = { "open" }, shows = { open = dead { ["key-lamp"] = "none" } } }
suspect "joints" { title = "a loose or burnt connector", modes = { "loose", "bent pin", "burnt" }, odds = 4, shows = {
  loose = { ["inside/tight"] = "no" }, ["bent pin"] = { ["ports/pins"] = "no" }, burnt = { ["inside/brown"] = "no" } } }
suspect "settings" { title = "PAD left at 10 dB", modes = { "set" }, odds = 2, shows = { set = { ["as-found"] = "38 dBm" } } }
suspect "pad" { title = "K1, the relay of PAD", modes = { "stuck at 10 dB", "poor contact" } }
suspect "a1" { title = "A1, first stage", modes = { "dead", "low gain" }, odds = 2 }
suspect "c8" { title = "C8, between A1 and A2, out of tune", modes = { "shifted" } }
suspect "a2" { title = "A2, driver module", modes = { "dead", "low gain" }, odds = 3 }
suspect "w2" { title = "W2, driver to final", modes = { "open", "short" } }
suspect "bias" { title = "R31, bias of the final, out of adjustment", modes = { "shifted" }, shows = { shifted = { ["bias-set"] = "0.5 A" } } }
suspect "u3" { title = "U3, bias regulator", modes = { "dead" }, shows = { dead = { ["bias-set"] = "0.3 A" } } }
suspect "l9" { title = "L9, feed choke of the final", modes = { "open", "poor joint" }, shows = {
  open = { ["final-drain"] = "-27.5 V" }, ["poor joint"] = { ["final-drain"] = "-1.1 V" } } }
suspect "q3" { title = "Q3, final", modes = { "input short", "drain short", "low gain", "gate leaky" }, odds = 5, shows = {
  ["drain short"] = dead { lamp = "limit", ["bus-limit"] = "0.6 ohm" }, ["gate leaky"] = { ["bias-set"] = "0.4 A" } } }
suspect "match" { title = "C41, output match, out of tune", modes = { "shifted" } }
suspect "w3" { title = "W3, final to filter bank", modes = { "open", "poor joint" } }
suspect "k2" { title = "K2, the relay of BAND", modes = { "stuck", "poor contact" }, odds = 2 }
suspect "f-low" { title = "FL1, LOW section of the filter bank", modes = { "burnt capacitor" } }
suspect "f-high" { title = "FL2, HIGH section of the filter bank", modes = { "burnt capacitor" },
  shows = { ["burnt capacitor"] = { ["as-found"] = "41 dBm" } } }
suspect "w4" { title = "W4, coupler to J2", modes = { "open", "poor joint" }, odds = 2, shows = {
  open = { prot = "lit", ["reverse/reverse"] = "5 dBm" } } }
suspect "d4" { title = "D4, forward detector", modes = { "reads high" }, shows = { ["reads high"] = { bar = "different" } } }
suspect "u5" { title = "U5, levelling amplifier", modes = { "stuck", "protects for nothing" }, shows = {
  ["protects for nothing"] = { prot = "lit", ["key-lamp"] = "prot" } } }
suspect "rt1" { title = "RT1, temperature sensor", modes = { "drifted", "open" }, odds = 2, shows = {
  drifted = { ["intake/entry"] = "fades", fade = "prot", ["rt1-ohms"] = "2.2 kohm" },
  open = { prot = "lit", ["key-lamp"] = "prot", ["rt1-ohms"] = "OL" } } }
suspect "fan" { title = "M1, fan", modes = { "stopped" }, odds = 2, shows = {
  stopped = { ["intake/entry"] = "fades", fade = "prot", fins = "78 degC" } } }
suspect "paste" { title = "the heat joint under Q3", modes = { "dried paste", "loose screw" }, odds = 2, shows = {
  ["dried paste"] = { ["intake/entry"] = "fades", fade = "sinks" }, ["loose screw"] = { ["intake/entry"] = "fades", fade = "sinks" } } }

healthy {
  ["intake/entry"] = "low", lamp = "lit", ["lamp-again"] = "lit", ["key-lamp"] = "key", prot = "dark", bar = "same", fade = "steady",
  ["coupling-stamp"] = "40 dB", ["final-drain"] = "-0.1 V", ["rt1-ohms"] = "5.08 kohm +/- 3 %", fins = "43 degC",
}

-- The signal's way, for `show`.
chain "signal" { "J1", "pad", "a1", "TP1", "c8", "a2", "w2", "TP2", "q3", "match", "TP3", "w3", "J5", "k2", "TP4", "TP5", "w4", "J2",
                 title = "the signal, from J1 to J2; FL1 or FL2 lies behind K2" }
chain "feed" { "P1", "fuse", "TP6", "l9", "TP10", "q3", title = "28 V, from P1 to the final" }

---------------------------------------------------------------- what many steps share

-- Every level in here is a sum anybody can do in the head, because the drive is always 10 mW at 145 MHz.
local function drive(level)
  return { level or "10 dBm", at = "J1", freq = "145 MHz", hookup = "source lead",
           margin = "The source gives 13 dBm at most, and J1 stands 20 dBm." }
end

-- While power is read at J2 the 30 dB pad is the load. While something else is read, J2 still wants its 50 ohm.
local on_the_pad  = { "50 ohm, the 30 dB power pad of the power lead", at = "J2", rated = "100 W", time = "60 s" }
local on_the_load = { "50 ohm, the dummy load", at = "J2", rated = "100 W", time = "60 s" }

-- Every element at its worst at once is still no fault, and neither is what source and meter are wrong by.
local banded = { "signal", worst = true, wider = "0.8 dB" }
local fed    = { "signal", worst = true, wider = "0.3 dB" }

-- Where every level below is counted. With X4 parted besides, the levelling loop is open, and nothing hides what the stages can do.
local set_right = { band = "low", pad = "0 dB" }

local function at_j2(how)
  return { "power", at = "J2", hookup = "power lead", freq = "145 MHz", settle = "2 s", plausible = "-30 dBm .. 50 dBm",
           margin = "Q3 gives 51 dBm at most, whatever drives it: 21 dBm behind the pad, and the meter stands 27 dBm.",
           asks = "With " .. (how and how .. " and " or "") .. "G1's output on, read power at J2 at 145 MHz with the power lead." }
end
local function at_tap(point)
  return { "power", at = point, hookup = "tap lead", freq = "145 MHz", settle = "2 s", plausible = "-70 dBm .. 15 dBm",
           asks = "With G1's output on, read power at " .. point .. " at 145 MHz with the tap lead." }
end
-- While the unit is keyed with nothing going in, only the idle current flows.
local function undriven(at, against, t)
  t[1], t.at, t.against, t.hookup = "volts", at, against, "pin lead"
  t.asks = "With G1's output off, read volts at " .. at .. " against " .. against .. " with the pin lead."
  return t
end
local function named(name, reading, t)
  table.insert(reading, 1, name)
  for key, value in pairs(t or {}) do reading[key] = value end
  return reading
end
local function across(at, against, asks)
  return { "ohms", at = at, against = against, hookup = "prods", settle = "3 s", plausible = "0 ohm .. 100 Mohm", asks = asks }
end

---------------------------------------------------------------- nothing lights

step "lamp" {
  title = "POWER lamp",
  look = "What does the green POWER lamp do, and what does the bench supply's ammeter show? If the supply sits at its limit, switch it off " ..
         "again at once: it has found a short.",
  power = "on", minutes = 1,
  note = "Not keyed, it draws about 0.3 A.",
  answers = {
    { "lit", "steady green, about 0.3 A", to = "key-lamp", clears = { "fuse", "d1" } },
    { "dark", "nothing lights", to = "rails" },
    { "limit", "the supply goes into its limit", to = "bus-limit", clears = { "feed-lead", "fuse" } },
    { "smoke", "smoke, smell or crackling", stop = true },
  },
}

step "rails" {
  title = "28 V from P1 to the regulator",
  collect = {
    { "p1", "volts", at = "P1", against = "P1 minus", hookup = "prods", expect = fed, plausible = "-40 V .. 40 V" },
    { "bus", "volts", at = "TP6", against = "chassis", hookup = "pin lead", expect = fed, plausible = "-1 V .. 40 V" },
    { "p12", "volts", at = "TP8", against = "chassis", hookup = "pin lead", expect = fed, plausible = "-1 V .. 30 V" },
  },
  power = "on", open = { "top-cover" }, minutes = 4,
  note = "P1 is read at the amplifier, not at the supply: what counts is what arrives. -28 V is a lead made up the wrong way round.",
  decide = function(v, outcome)
    for _, name in ipairs { "p1", "bus", "p12" } do
      if outcome[name] == "unread" or outcome[name] == "unsure" then return "unclear" end
    end
    if outcome.p1 ~= "ok" then return "found-feed-lead" end
    if outcome.bus ~= "ok" then return "f1-ohms" end
    return outcome.p12 == "ok" and "key-lamp" or "found-reg"
  end,
  to = { { to = "key-lamp", clears = { "feed-lead", "fuse", "d1", "reg" } },
         { to = "f1-ohms", clears = { "feed-lead" } },
         { to = "found-feed-lead", implicates = { "feed-lead" } },
         { to = "found-reg", clears = { "feed-lead", "fuse", "d1" }, implicates = { "reg" } },
         "unclear" },
}

step "f1-ohms" {
  title = "F1, in its clips", see = "board",
  read = { "continuity", at = "F1", against = "its other end", hookup = "prods", plausible = "0 ohm .. 100 Mohm",
           asks = "Read F1 on its own end caps, then on the clips. Type the worse of the two." },
  limits = "at most 1 ohm", open = { "top-cover" }, minutes = 2,
  high = { to = "bus-fuse", implicates = { "fuse" } },
  otherwise = "unclear",
}

-- Red prod on TP6. C60 charges through the meter, so it climbs to the 2.2 kohm of its bleeder or a little less.
local function bus_ohms(id, title, whole)
  step(id) {
    title = title,
    read = across("TP6", "chassis", "Read ohms from TP6 to chassis, red prod on TP6, until it stands still."),
    limits = "at least 200 ohm", open = { "top-cover" }, minutes = 2,
    ok = whole, high = whole, low = "lift-l9",
    otherwise = "unclear",
  }
end
bus_ohms("bus-limit", "28 V bus, with the supply in its limit", "found-limit")
bus_ohms("bus-fuse", "28 V bus, before a new fuse goes in", "new-f1")

step "lift-l9" {
  title = "Free the final",
  act = "Unsolder L9 at the 28 V bus and bend it clear.",
  zone = "inside", open = { "top-cover" }, power = "dead", minutes = 5,
  makes = { "l9-lifted" },
  next = "bus-alone",
}

step "bus-alone" {
  title = "28 V bus without the final",
  read = across("TP6", "chassis"),
  limits = "at least 200 ohm", open = { "top-cover" }, minutes = 2,
  low = { to = "found-d1", clears = { "q3" }, implicates = { "d1" } },
  ok = { to = "found-q3-bus", clears = { "d1" }, implicates = { "q3" } },
  high = { to = "found-q3-bus", clears = { "d1" }, implicates = { "q3" } },
  otherwise = "unclear",
}

step "new-f1" {
  title = "A new F1",
  replace = "F1", text = "10 A quick, as printed beside the clips: nothing bigger, and no wire. Bend the clips until they bite.",
  zone = "inside", open = { "top-cover" }, power = "dead", minutes = 2, most = 1, beyond = "found-new-fuse", cures = { "fuse" },
  voids = { "rails" },
  next = "lamp-again",
}

step "lamp-again" {
  title = "POWER lamp with the new fuse",
  look = "One hand at the switch: what do lamp and ammeter do now? If the supply sits at its limit, switch it off again at once.",
  power = "on", open = { "top-cover" }, minutes = 1,
  answers = {
    { "lit", "steady green, about 0.3 A", to = "key-lamp", clears = { "d1" } },
    { "dark", "dark again", to = "found-new-fuse" },
    { "limit", "the supply goes into its limit", to = "found-new-fuse" },
    { "smoke", "smoke, smell or crackling", stop = true },
  },
}

---------------------------------------------------------------- the key

step "key-lamp" {
  title = "KEY lamp",
  look = "With no drive: key it for at most 5 s, look at the yellow KEY lamp and the red PROT lamp, release the key. What did they show?",
  power = "keyed", load = on_the_load, minutes = 2,
  answers = {
    { "key", "KEY lit, PROT dark", to = "load-check", clears = { "key-in", "key-sw" } },
    { "prot", "both lit", to = "fins", clears = { "key-in", "key-sw" } },
    { "none", "KEY stays dark", to = "key-volts" },
    { "smoke", "smoke, smell or crackling", stop = true },
  },
}

step "key-volts" {
  title = "Key line", see = "board",
  read = undriven("TP11", "chassis", { plausible = "-1 V .. 15 V" }),
  limits = "at most 0.6 V",
  power = "keyed", load = on_the_load, open = { "top-cover" }, minutes = 3,
  note = "12 V at rest. The key pulls it to ground through J3; Q7 comes after it.",
  ok = { to = "found-key-sw", clears = { "key-in" }, implicates = { "key-sw" } },
  low = { to = "found-key-sw", clears = { "key-in" }, implicates = { "key-sw" } },
  high = { to = "found-key-in", implicates = { "key-in" } },
  otherwise = "unclear",
}

---------------------------------------------------------------- as it came

-- A load is shown to be one before anything is driven into it: two ends, a meter, and a number.
step "load-check" {
  title = "The loads, before anything is driven into them",
  collect = {
    { "pad", "ohms", at = "the unit's end of the power lead", against = "its shell", hookup = "prods", loose = true,
      asks = "Read ohms from the centre of the power lead's free end, pad and meter on it, to its shell.",
      limits = "45 ohm .. 55 ohm", plausible = "0 ohm .. 100 Mohm" },
    { "load", "ohms", at = "the dummy load", against = "its shell", hookup = "prods", loose = true,
      asks = "Read ohms from the dummy load's centre pin to its shell.",
      limits = "45 ohm .. 55 ohm", plausible = "0 ohm .. 100 Mohm" },
  },
  holds = "all", minutes = 2,
  ok = "ports", otherwise = "unclear",
}

-- A bent pin is not driven, so these two are put right before anything is read.
step "ports" {
  title = "J1 and J2, before it is driven",
  checklist = {
    { "pins", "With both leads off J1 and J2: are their centre pins straight, and at their full height?" },
    { "tight", "Are J1 and J2 tight, with no play in the panel?" },
  },
  power = "off", minutes = 2,
  low = { to = "ports-right", implicates = { "joints" } },
  otherwise = "as-found",
}

step "ports-right" {
  title = "J1 and J2 put right",
  act = "Clean and tighten J1 and J2: N to 1.2 N m. Exchange one with a bent or burnt pin.",
  zone = "inside", open = { "top-cover" }, power = "off", minutes = 10, cures = { "joints" },
  next = "as-found",
}

step "as-found" {
  title = "Power, as it came",
  inject = drive(),
  read = at_j2("BAND and PAD as the owner had them"), limits = "46 dBm .. 48.5 dBm",
  power = "keyed", load = on_the_pad, minutes = 3,
  note = "50 W is 47 dBm; less 30 dB for the pad and a little for the cable, the meter shows 17 dBm.",
  ok = "bands-apart", high = "bands-apart", low = "output", unsure = "output", unread = "unclear",
}

---------------------------------------------------------------- output

step "output" {
  title = "Power in LOW, PAD at 0 dB",
  inject = drive(),
  read = at_j2(), expect = banded,
  set = set_right, power = "keyed", load = on_the_pad, open = { "top-cover" }, minutes = 3, most = 3, beyond = "unclear",
  ok = "bands-apart", high = "bands-apart", low = { to = "inside", clears = { "settings" } }, unsure = "inside", unread = "unclear",
}

-- Two minutes here save an hour further down: one Garth in four has a loose nut.
step "inside" {
  title = "Connectors inside",
  checklist = {
    { "tight", "Are W2, W3 and W4 tight at both ends, and X4 home?" },
    { "brown", "Is every plug bright, and none of them brown?" },
  },
  power = "off", open = { "top-cover" }, minutes = 4, most = 1, beyond = "driven",
  ok = { to = "driven", clears = { "joints" } },
  low = { to = "reseat", implicates = { "joints" } },
  otherwise = "driven",
}

step "reseat" {
  title = "Put it right",
  act = "Clean and tighten what you found, and nothing else: SMA to 0.9 N m, N to 1.2 N m. Exchange a connector with a bent or burnt pin.",
  zone = "inside", open = { "top-cover" }, power = "off", minutes = 10, cures = { "joints" },
  next = "reseated",
}

step "reseated" {
  title = "Power after the connectors",
  inject = drive(),
  read = at_j2(), expect = banded,
  set = set_right, power = "keyed", load = on_the_pad, open = { "top-cover" }, minutes = 3,
  ok = "found-joints", high = "found-joints",
  low = { to = "driven", clears = { "joints" } }, otherwise = "unclear",
}

-- A supply that is right at rest may still sag when it is wanted.
step "driven" {
  title = "28 V bus and 12 V, with the drive on",
  inject = drive(),
  collect = {
    { "bus", "volts", at = "TP6", against = "chassis", hookup = "pin lead", expect = fed, plausible = "-1 V .. 40 V",
      asks = "With G1's output on, read volts at TP6 against chassis with the pin lead." },
    { "p12", "volts", at = "TP8", against = "chassis", hookup = "pin lead", expect = fed, plausible = "-1 V .. 30 V",
      asks = "With G1's output on, read volts at TP8 against chassis with the pin lead." },
  },
  set = set_right, power = "keyed", load = on_the_load, open = { "top-cover" }, minutes = 5,
  decide = function(v, outcome)
    if outcome.bus == "ok" and outcome.p12 == "ok" then return "prot" end
    if outcome.bus == "low" then return "p1-driven" end
    return outcome.bus == "ok" and (outcome.p12 == "low" or outcome.p12 == "high") and "found-reg" or "unclear"
  end,
  to = { { to = "prot", clears = { "feed-lead", "fuse", "reg" } }, "p1-driven",
         { to = "found-reg", clears = { "feed-lead", "fuse" }, implicates = { "reg" } }, "unclear" },
}

step "p1-driven" {
  title = "28 V at P1, with the drive on",
  inject = drive(),
  read = { "volts", at = "P1", against = "P1 minus", hookup = "prods", plausible = "-40 V .. 40 V",
           asks = "With G1's output on, read volts at P1 against P1 minus, at the amplifier and not at the supply." },
  expect = fed,
  set = set_right, power = "keyed", load = on_the_load, open = { "top-cover" }, minutes = 2,
  low = { to = "found-feed-lead", implicates = { "feed-lead" } },
  ok = { to = "found-clips", clears = { "feed-lead" }, implicates = { "fuse" } },
  otherwise = "unclear",
}

-- One pad, one meter: what they are wrong by is in both readings, and falls out of the difference.
step "bands-apart" {
  title = "LOW against HIGH",
  inject = drive(),
  read = {
    named("low", at_j2("BAND at LOW"), { set = { band = "low" } }),
    named("high", at_j2("BAND at HIGH"), { set = { band = "high" } }),
  },
  difference = { "low", "high" }, limits = "0 dB +/- 1 dB",
  power = "keyed", load = on_the_pad, open = { "top-cover" }, minutes = 4,
  note = "Both sections of the filter bank pass 145 MHz.",
  ok = "what-helped", unread = "unclear", otherwise = "bank",
}

-- The power is right now, in both bands: what has been changed since it was not?
step "what-helped" {
  title = "What put it right?",
  uses = { f1 = "f1-ohms", pins = "ports/pins", tight = "ports/tight", as_found = "as-found", bias = "bias-set",
           low = "drive-both/low", high = "drive-both/high" },
  decide = function(v, outcome)
    if outcome.bias == "ok" then return "found-bias" end
    if outcome.low == "ok" and outcome.high == "ok" then return "found-c8" end
    if outcome.as_found == "low" then return "found-settings" end
    if outcome.as_found == "unsure" then return "unclear" end
    if outcome.pins == "low" or outcome.tight == "low" then return "found-ports" end
    return outcome.f1 == "high" and "found-fuse" or "not-shown"
  end,
  to = { { to = "found-bias", implicates = { "bias" } }, { to = "found-c8", implicates = { "c8" } },
         { to = "found-settings", implicates = { "settings" } }, { to = "found-ports", implicates = { "joints" } },
         { to = "found-fuse", implicates = { "fuse" } }, "not-shown", "unclear" },
}

step "prot" {
  title = "PROT lamp under drive",
  inject = drive(),
  look = "With G1's output on: key it for at most 5 s, look at the red PROT lamp, release the key. What did it do?",
  set = set_right, power = "keyed", load = on_the_load, open = { "top-cover" }, minutes = 2,
  answers = {
    { "dark", "dark", to = "open-loop", clears = { "rt1", "w4" } },
    { "lit", "lit, or flickering", to = "reverse" },
    { "smoke", "smoke, smell or crackling", stop = true },
  },
}

step "reverse" {
  title = "What the coupler sees coming back",
  inject = drive(),
  read = { named("forward", at_tap "TP4"), named("reverse", at_tap "TP5") },
  difference = { "forward", "reverse" }, limits = "at least 14 dB",
  set = set_right, power = "keyed", load = on_the_load, open = { "top-cover" }, minutes = 4,
  note = "The load reads 50 ohm. What comes back all the same comes from between the coupler and J2.",
  ok = { to = "fins", clears = { "w4" } }, high = { to = "fins", clears = { "w4" } },
  low = { to = "found-w4-reverse", implicates = { "w4" } },
  otherwise = "unclear",
}

step "open-loop" {
  title = "Power without levelling",
  inject = drive(),
  read = at_j2(), expect = banded,
  set = set_right, breaks = { "x4" }, power = "keyed", load = on_the_pad, open = { "top-cover" }, minutes = 4,
  note = "With X4 parted A1 runs at full gain. If the power comes now, nothing is weak: it is held back.",
  ok = "bar", high = "bar",
  low = { to = "tp2-drive", clears = { "d4", "u5" } },
  unsure = "tp2-drive", unread = "unclear",
}

step "bar" {
  title = "PWR bar against the meter",
  inject = drive(),
  compare = "With G1's output on: key it for at most 5 s, look at the PWR bar and the meter, release the key. Did the bar show what " ..
            "the meter showed? A segment is 5 W, and 17 dBm on the meter is 50 W.",
  set = set_right, power = "keyed", load = on_the_pad, open = { "top-cover" }, minutes = 3,
  note = "The bar and the levelling both live on D4. A bar that boasts is a detector that boasts.",
  same = { to = "found-u5-bar", clears = { "d4" }, implicates = { "u5" } },
  different = { to = "found-d4", clears = { "u5" }, implicates = { "d4" } },
  unclear = "unclear",
}

---------------------------------------------------------------- halved at TP2

step "tp2-drive" {
  title = "Drive of the final",
  inject = drive(),
  read = at_tap "TP2", expect = banded,
  set = set_right, breaks = { "x4" }, power = "keyed", load = on_the_load, open = { "top-cover" }, minutes = 3,
  note = "10 dBm in, A1 12 dB, A2 15 dB: 37 dBm, 5 W, on the line. The tap takes 30 dB off.",
  ok = { to = "tp3-level", clears = { "pad", "a1", "c8", "a2", "w2" } },
  high = { to = "tp3-level", clears = { "pad", "a1", "c8", "a2", "w2" } },
  low = { to = "driver-alone", clears = { "match", "w3", "k2", "f-low", "f-high" } },
  unsure = "driver-alone", unread = "unclear",
}

step "tp3-level" {
  title = "After the final",
  inject = drive(),
  read = at_tap "TP3",
  expect = banded,
  set = set_right, breaks = { "x4" }, power = "keyed", load = on_the_load, open = { "top-cover" }, minutes = 2,
  note = "37 dBm in, 12 dB of Q3, 0.7 dB of that compressed: 48.3 dBm on the line, tapped 40 dB down.",
  ok = { to = "coupling-stamp", clears = { "bias", "u3", "l9", "q3", "match" } },
  high = { to = "coupling-stamp", clears = { "bias", "u3", "l9", "q3", "match" } },
  low = { to = "drive-off", clears = { "w3", "k2", "f-low", "f-high" } },
  otherwise = "unclear",
}

-- behind the final

step "coupling-stamp" {
  title = "Coupling stamped on the coupler",
  read = { "loss", unit = "dB", plausible = "38 dB .. 42 dB",
           asks = "Read the coupling at 145 MHz that is stamped on the coupler's lid." },
  open = { "top-cover" }, minutes = 1, holds = "all",
  next = "forward", unread = "forward",
}

step "forward" {
  title = "Forward power at the coupler",
  inject = drive(),
  read = at_tap "TP4",
  uses = { before = "tp3-level", coupling = "coupling-stamp" },
  -- Against TP3, and with the coupling stamped on this very coupler: closer than a line-up can know it.
  limits = function(v)
    local expected = (v.before or 8.3) + 40 - 0.8 - (v.coupling or 40)
    return { expected - 1.2, expected + 1.2 }
  end,
  set = set_right, breaks = { "x4" }, power = "keyed", load = on_the_load, open = { "top-cover" }, minutes = 2,
  note = "What TP3 said on the line, less 0.6 dB of filter bank, 0.2 dB of coupler and the coupling.",
  ok = { to = "found-w4", clears = { "w3", "k2", "f-low", "f-high" }, implicates = { "w4" } },
  high = { to = "found-w4", clears = { "w3", "k2", "f-low", "f-high" }, implicates = { "w4" } },
  low = "bank", unsure = "bank", unread = "unclear",
}

-- Cold: a milliwatt shows what a bank loses as well as 50 W does, and nobody has to key it.
step "bank" {
  title = "Filter bank by itself, cold",
  inject = { "0 dBm", at = "J5", freq = "145 MHz", hookup = "source lead" },
  grid = {
    columns = { "140 MHz", "145 MHz", "150 MHz" },
    rows = {
      { "low", set = { band = "low" }, through = { "k2", "f-low" } },
      { "high", set = { band = "high" }, through = { "k2", "f-high" } },
    },
    read = { "power", at = "J2", hookup = "power lead", plausible = "-60 dBm .. 5 dBm" },
    limits = "-0.8 dBm +/- 1.2 dB",
  },
  power = "on", open = { "top-cover" }, breaks = { "w3" }, minutes = 6,
  note = "Filters 0.6 dB, coupler 0.2 dB. The pad stays on J2.",
  uses = { final = "tp3-level" },
  decide = function(v, outcome)
    local bad, open = { low = false, high = false }, false
    for row, _ in pairs(bad) do
      for i = 1, 3 do
        local came = outcome[row .. "." .. i]
        if came == "unread" or came == "unsure" then
          open = true
        elseif came ~= "ok" then
          bad[row] = true
        end
      end
    end
    if bad.low and bad.high then return "found-k2" end
    if open then return "unclear" end
    if bad.low then return "found-f-low" end
    if bad.high then return "found-f-high" end
    return v.final and "found-w3" or "drive-both"
  end,
  to = { "found-k2", "found-f-low", "found-f-high", "unclear", { to = "found-w3", implicates = { "w3" } }, "drive-both" },
}

-- the final itself

step "drive-off" {
  title = "Drive off",
  act = "Switch G1's output off, and see on G1 that it is. The next key-downs are without drive.",
  outside = true, power = "any", minutes = 1,
  next = "final-drain",
}

step "final-drain" {
  title = "Drop across L9, without drive", see = "board",
  read = undriven("TP10", "TP6", { plausible = "-40 V .. 2 V" }),
  limits = "-0.3 V .. 0.1 V",
  breaks = { "x4" }, power = "keyed", load = on_the_load, open = { "top-cover" }, minutes = 3,
  note = "Only the idle current flows through L9. Against TP6, so that the supply itself does not matter.",
  ok = { to = "final-bias", clears = { "l9" } },
  low = { to = "found-l9", implicates = { "l9" } },
  unread = "unclear", otherwise = "final-bias",
}

step "final-bias" {
  title = "Bias of the final, without drive", see = "board",
  read = undriven("TP7", "chassis", { plausible = "-1 V .. 10 V" }),
  expect = { "idle", worst = true, wider = "0.4 dB" },
  breaks = { "x4" }, power = "keyed", load = on_the_load, open = { "top-cover" }, minutes = 2,
  ok = { to = "drive-up", clears = { "bias", "u3" } },
  low = "bias-set", high = "bias-set", otherwise = "unclear",
}

step "bias-set" {
  title = "Idle current, R31, without drive", see = "connectors",
  adjust = { "Mark where R31 stands. Begin fully counter-clockwise: idle current that is too high kills Q3 in seconds. Turn it slowly " ..
             "clockwise with the insulated trimmer, through the hole marked BIAS in the side, until the clamp shows about 1.1 A. " ..
             "Note how far you turned it.",
             tries = 4,
             read = { "amps", at = "P1", hookup = "clamp", plausible = "-1 A .. 15 A",
                      asks = "With G1's output off, read the clamp around the red core of the 28 V lead." } },
  limits = "1.1 A +/- 0.1 A",
  outside = true, breaks = { "x4" }, power = "keyed", load = on_the_load, open = { "top-cover" }, minutes = 5,
  cures = { "bias" },
  note = "0.3 A of the rest, 0.8 A of the final.",
  ok = { to = "output", clears = { "u3" }, implicates = { "bias" } },
  low = { to = "found-bias-side", clears = { "bias" } },
  high = { to = "found-bias-side", clears = { "bias" } },
  otherwise = "unclear",
}

-- Supply and bias come first: a final without its bias, driven hard, is a dead final. A drop that was read too coarsely is read again.
step "drive-up" {
  title = "Bring up the drive", see = "connectors",
  passed = { "final-drain", "final-bias" }, not_yet = "final-drain", most = 3, beyond = "unclear",
  inject = drive "0 dBm",
  watch = {
    "Switch G1's output on. Turn it up by 2 dB a round: 2 dB over the level named here in the first, 10 dB over it in the fifth.", tries = 5,
    read = {
      named("out", at_tap "TP3", { limits = "at most 10 dBm" }),
      { "current", "amps", at = "P1", hookup = "clamp", plausible = "-1 A .. 15 A", limits = "at most 4.6 A",
        asks = "With G1's output on, read the clamp around the red core of the 28 V lead." },
    },
  },
  set = set_right, breaks = { "x4" }, power = "keyed", load = on_the_load, open = { "top-cover" }, outside = true, minutes = 6,
  note = "From 0 to 10 dBm. 50 W cost about 4 A. Current without power is heat; power that jumps is an oscillator, no amplifier.",
  ok = "match-peak", high = "match-peak", unsure = "match-peak", otherwise = "unclear",
}

step "match-peak" {
  title = "Output match, C41",
  inject = drive(),
  adjust = { "Mark where C41 stands. Turn it with the insulated trimmer, through the hole marked OUT in the side, no more than an eighth " ..
             "of a turn either way, for the most power. Note how far you turned it.",
             tune = "peak", tries = 2, read = at_j2() },
  limits = "at least 46 dBm",
  set = set_right, breaks = { "x4" }, power = "keyed", load = on_the_pad, open = { "top-cover" }, outside = true, minutes = 5,
  cures = { "match" },
  note = "A match that has wandered further than that has something burnt beside it.",
  ok = { to = "found-match", clears = { "q3" }, implicates = { "match" } },
  low = { to = "found-q3-weak", clears = { "match" }, implicates = { "q3" } },
  otherwise = "unclear",
}

---------------------------------------------------------------- before TP2

step "driver-alone" {
  title = "Driver into the pad instead of the final", see = "board",
  inject = drive(),
  read = { "power", at = "W2", hookup = "power lead", freq = "145 MHz", settle = "2 s", plausible = "-30 dBm .. 42 dBm",
           asks = "With G1's output on, read power at the free end of W2 with the power lead; the dummy load is on J2." },
  expect = banded,
  set = set_right, power = "keyed", load = on_the_load, open = { "top-cover" }, breaks = { "w2", "x4" },
  minutes = 6,
  note = "5 W at the end of W2. If they are there now and were not before, it is the final that eats them.",
  ok = { to = "found-q3-input", clears = { "pad", "a1", "c8", "a2", "w2" }, implicates = { "q3" } },
  high = { to = "found-q3-input", clears = { "pad", "a1", "c8", "a2", "w2" }, implicates = { "q3" } },
  low = { to = "first-stage", clears = { "q3" } },
  unsure = "first-stage", unread = "unclear",
}

-- Two positions tell a weak stage from a pad that never goes out.
step "first-stage" {
  title = "A1, with PAD out and in",
  inject = drive(),
  collect = {
    named("straight", at_tap "TP1", { set = { pad = "0 dB" }, expect = banded }),
    named("padded", at_tap "TP1", { set = { pad = "10 dB" }, expect = banded }),
  },
  set = { band = "low" }, breaks = { "x4" }, power = "keyed", load = on_the_load, open = { "top-cover" }, minutes = 4,
  note = "10 dBm in, 12 dB of A1, tapped 20 dB down.",
  decide = function(v, outcome)
    if outcome.straight == "unread" or outcome.padded == "unread" then return "unclear" end
    if outcome.straight == "ok" or outcome.straight == "high" then return "drive-both" end
    if not v.straight or not v.padded then return "unclear" end
    -- With nothing at all in either position there is no difference to tell by, and PAD at its worst lets something through.
    if v.straight < -30 and v.padded < -30 then return "found-a1" end
    local pad = v.straight - v.padded
    return pad > 8.5 and pad < 11.5 and "found-a1" or "found-pad"
  end,
  to = { { to = "drive-both", clears = { "pad", "a1" } },
         { to = "found-a1", clears = { "pad" }, implicates = { "a1" } },
         { to = "found-pad", implicates = { "pad" } }, "unclear" },
}

step "drive-both" {
  title = "Drive in both bands, C8",
  inject = drive(),
  adjust = {
    "Mark where C8 stands. Turn it a little with the insulated trimmer, through the hole marked DRIVE in the side, until both bands show " ..
    "about 6.7 dBm on the meter. Note how far you turned it.", tries = 4,
    read = {
      named("low", at_tap "TP2", { set = { band = "low" }, expect = banded }),
      named("high", at_tap "TP2", { set = { band = "high" }, expect = banded }),
    },
  },
  set = { pad = "0 dB" }, breaks = { "x4" }, power = "keyed", load = on_the_load, open = { "top-cover" }, outside = true,
  minutes = 8,
  cures = { "c8" },
  note = "A peak in one band starves the other. What you want is the setting both can live with.",
  ok = { to = "output", clears = { "a2" }, implicates = { "c8" } },
  unread = "unclear", otherwise = { to = "new-a2", clears = { "c8" } },
}

step "new-a2" {
  title = "The shop's A2",
  replace = "A2", text = "The driver is a module on two plugs and four screws. Put the shop's own in, with fresh paste.",
  zone = "inside", open = { "top-cover" }, power = "off", minutes = 10, most = 1, beyond = "found-w2", cures = { "a2" },
  voids = { "tp2-drive", "output" }, retest = { "tp2-drive", "output" },
  next = { to = "found-a2", implicates = { "a2" } },
}

---------------------------------------------------------------- heat

counter "coolings" { most = 3, beyond = "unclear" }

step "cool" {
  title = "Let it cool",
  wait = "15 min", text = "What fades when warm is judged from cold: fins, Q3 and RT1 at the temperature of the room.",
  power = "off", minutes = 15,
  next = "fins-cold",
}

step "fins-cold" {
  title = "Fins, cold", see = "connectors",
  read = { "temperature", at = "fins", hookup = "thermometer", settle = "10 s", plausible = "-10 degC .. 150 degC" },
  limits = "at most 32 degC", power = "off", outside = true, minutes = 1,
  ok = "fade", high = { to = "cool", counts = "coolings" }, unsure = { to = "cool", counts = "coolings" },
  otherwise = "unclear",
}

step "fade" {
  title = "Half a minute of power",
  inject = drive(),
  look = "With G1's output on: key it six times, at most 5 s each, releasing the key for a breath between, and watch the meter behind the " ..
         "pad and the PROT lamp. Full power is about 17 dBm on the meter. What happened?",
  set = { band = "low", pad = "0 dB" }, power = "keyed", load = on_the_pad, minutes = 3,
  answers = {
    { "steady", "the sixth time as the first, within half a dB", to = "not-shown" },
    { "weak", "it never gets there", to = "load-check" },
    { "sinks", "it sinks, and PROT stays dark", to = "found-paste", clears = { "rt1" }, implicates = { "paste" } },
    { "prot", "it sinks as PROT lights", to = "fins", clears = { "paste" } },
    { "smoke", "smoke, smell or crackling", stop = true },
  },
}

step "fins" {
  title = "Fins, when PROT lights", see = "connectors",
  read = { "temperature", at = "fins", hookup = "thermometer", settle = "10 s", plausible = "-10 degC .. 150 degC" },
  limits = "at most 65 degC", power = "off", outside = true, holds = "all", minutes = 1,
  note = "PROT holds back from 70 degC on. The fins keep their heat for minutes.",
  ok = { to = "rt1-ohms", clears = { "fan" } },
  high = { to = "found-fan", clears = { "rt1" }, implicates = { "fan" } },
  unsure = "rt1-ohms", otherwise = "unclear",
}

step "rt1-ohms" {
  title = "RT1, at the temperature it has", see = "board",
  read = { "ohms", at = "RT1", against = "its other pin", hookup = "prods", plausible = "0 ohm .. 100 Mohm",
           asks = "Pull RT1's plug, read across RT1, and push the plug home again." },
  uses = { fins = "fins" },
  -- 10 kohm at 25 degC, B = 3450 K, and 12 % either way for the time it took to get here.
  limits = function(v)
    local kelvin = (v.fins or 25) + 273.15
    local ohms = 10e3 * math.exp(3450 * (1 / kelvin - 1 / 298.15))
    return { ohms * 0.88, ohms * 1.12 }
  end,
  open = { "top-cover" }, minutes = 4,
  ok = { to = "found-u5-prot", clears = { "rt1" }, implicates = { "u5" } },
  low = { to = "found-rt1", implicates = { "rt1" } },
  high = { to = "found-rt1", implicates = { "rt1" } },
  otherwise = "unclear",
}

---------------------------------------------------------------- ends

local function found(id, t)
  step("found-" .. id)(t)
end

found("limit", { finding = { "d1", "reg", "q3" }, separated = false, title = "On the 28 V bus, not separated",
  proof = "The supply goes into its limit, and the bus reads no short when it is dead.",
  not_tested = "What breaks down only under voltage: lift L9 and bring the supply up slowly, its limit at 0.5 A." })
found("new-fuse", { finding = { "d1", "reg", "q3" }, separated = false, title = "Behind F1, not separated",
  proof = "F1 read open, the bus behind it reads no short, and with a new F1 the lamp does not come on.",
  not_tested = "Whether the new F1 went as well: what breaks down only under voltage blows it, a dead U1 leaves it whole." })
found("feed-lead", { finding = { "feed-lead" }, title = "The 28 V lead",
  proof = "P1, read at the amplifier, is not at 28 V within 5 %.",
  not_tested = "The bench supply: read it at its own terminals. D1, if the lead was the wrong way round: read the bus before it goes back on." })
found("fuse", { finding = { "fuse" }, title = "F1 had blown; the new one holds",
  proof = "F1 or its clips read open, the bus behind it reads no short, and with a new F1 the power is right in both bands.",
  not_tested = "Why it blew." })
found("clips", { finding = { "fuse" }, title = "F1 or its clips lose volts",
  proof = "With the drive on P1 is at 28 V, and TP6 behind F1 is low." })
found("d1", { finding = { "d1" }, title = "D1, reverse-polarity diode",
  proof = "The 28 V bus stays shorted with the final lifted off it.",
  advice = "It died of a lead the wrong way round: find that lead. L9 wants soldering back." })
found("reg", { finding = { "reg" }, title = "U1, 12 V regulator",
  proof = "28 V go in at TP6, and TP8 is not 12 V.",
  not_tested = "A short on the 12 V line pulls it down the same way: feel for what is hot, with the power off." })
found("key-in", { finding = { "key-in" }, title = "J3 or the key lead", proof = "KEY stays dark, and TP11 stays up with the key pressed." })
found("key-sw", { finding = { "key-sw" }, title = "Q7, key switch", proof = "KEY stays dark, and the key pulls TP11 to ground." })
found("ports", { finding = { "joints" }, title = "J1 or J2 was loose or bent",
  proof = "J1 or J2 had play or a bent pin, and with that put right the power is right in both bands.",
  not_tested = "What it gave before: a bent pin is not driven." })
found("joints", { finding = { "joints" }, title = "A loose or burnt connector inside",
  proof = "The power was low, and is right with the connectors put right and nothing else changed.",
  not_tested = "How long it holds: key it six times, and feel the connector afterwards, with the power off." })
found("settings", { finding = { "settings" }, title = "PAD had been left at 10 dB",
  proof = "The power was low as the owner had it, and is right in both bands with PAD at 0 dB.",
  advice = "Tell the owner, and ask what the exciter gives: with 100 mW, PAD belongs at 10 dB." })
found("pad", { finding = { "pad" }, title = "K1, the relay of PAD",
  proof = "A1 gives too little with PAD out, and PAD does not make its 10 dB." })
found("a1", { finding = { "a1" }, title = "A1, first stage",
  proof = "PAD makes its 10 dB, or nothing comes in either of its positions, and TP1 is low all the same, with X4 parted and 12 V right." })
found("c8", { finding = { "c8" }, title = "C8 was out of tune",
  proof = "One setting of C8 brings the drive in both bands, and the power with it.",
  not_tested = "Why it moved: seal it. C8 stands turned." })
found("a2", { finding = { "a2" }, title = "A2, driver module",
  proof = "TP1 is right, the driver was low into the final and into the pad, C8 does not help, and the shop's own A2 brings drive and " ..
          "power back." })
found("w2", { finding = { "w2" }, title = "W2, driver to final",
  proof = "TP1 is right, the power at the end of W2 is low, and neither C8 nor the shop's own A2 helps.",
  not_tested = "W2 by itself: read it dead, out of the tray. C8 stands turned." })
found("l9", { finding = { "l9" }, title = "L9, feed choke of the final",
  proof = "With idle current alone, TP10 behind L9 is more than 0.3 V under TP6 before it." })
found("bias-side", { finding = { "u3", "q3" }, separated = false, title = "Bias of the final, not separated",
  proof = "TP7 is not at 2.8 V, and R31 does not bring the idle current to 1.1 A.",
  not_tested = "TP7 while R31 is turned: if it follows, it is Q3, else U3. R31 stands turned." })
found("bias", { finding = { "bias" }, title = "R31 was out of adjustment",
  proof = "TP7 was not at 2.8 V, and with the idle current set by R31 the power is right in both bands.",
  not_tested = "Why it moved: look again when warm, then seal it. R31 stands turned." })
local seat = "Clean the seat, fresh paste, screws crosswise to 0.6 N m. Idle current before drive, drive before power."
found("q3-bus", { finding = { "q3" }, title = "Q3, final, shorts the bus",
  proof = "The 28 V bus reads shorted, and no more with L9 lifted.", advice = seat .. " L9 wants soldering back." })
found("q3-input", { finding = { "q3" }, title = "Q3, final, loads its drive",
  proof = "The drive is low at TP2 with the final joined, and 5 W come out of W2 with the pad in its place.",
  not_tested = "The parts between W2 and Q3: look at them before Q3 is ordered.", advice = seat })
found("q3-weak", { finding = { "q3" }, title = "Q3, final, weak",
  proof = "Drive, drain and bias are right, and with C41 at its best J2 stays under 46 dBm.", advice = seat .. " C41 stands turned." })
found("match", { finding = { "match" }, title = "C41 was out of tune", proof = "Drive, drain and bias are right, and C41 brings the power back.",
  not_tested = "Why it moved. Look at the capacitors beside it through a glass. C41 stands turned." })
found("w3", { finding = { "w3" }, title = "W3, final to filter bank",
  proof = "The power is there at TP3 and not at TP4, and the bank loses nothing by itself." })
found("k2", { finding = { "k2" }, title = "K2, the relay of BAND", proof = "Both sections lose too much, and K2 is what they share.",
  not_tested = "Two burnt sections at once. Look at them before the relay is ordered." })
found("f-low", { finding = { "f-low" }, title = "FL1, LOW section",
  proof = "LOW loses too much, and HIGH passes through the same relay." })
found("f-high", { finding = { "f-high" }, title = "FL2, HIGH section",
  proof = "HIGH loses too much, and LOW passes through the same relay." })
found("w4", { finding = { "w4" }, title = "W4, coupler to J2",
  proof = "TP3 and TP4 say full power, and J2 does not give it." })
found("w4-reverse", { finding = { "w4" }, title = "W4, coupler to J2, sends power back",
  proof = "PROT lights, and TP5 says that power comes back, with a load on J2 that reads 50 ohm." })
found("d4", { finding = { "d4" }, title = "D4, forward detector",
  proof = "The power is there with X4 parted and not with it joined, and the PWR bar does not show what the meter shows." })
found("u5-bar", { finding = { "u5" }, title = "U5, levelling amplifier",
  proof = "The power is there with X4 parted and not with it joined, PROT is dark, and the PWR bar shows what the meter shows." })
found("u5-prot", { finding = { "u5" }, title = "U5, levelling amplifier, on its protecting side",
  proof = "PROT lights with fins under 65 degC, and RT1 is what it should be at that temperature." })
found("rt1", { finding = { "rt1" }, title = "RT1, temperature sensor",
  proof = "PROT lights with fins under 65 degC, and RT1 is not what it should be at that temperature." })
found("fan", { finding = { "fan" }, title = "M1, fan", proof = "PROT lights, and the fins read over 65 degC.",
  not_tested = "Whether the fan turns: hold a strip of paper to it. A turning fan behind dusty fins reads the same." })
found("paste", { finding = { "paste" }, title = "The heat joint under Q3",
  proof = "The power sinks within half a minute from cold, and PROT stays dark.",
  not_tested = "A2 has the same kind of seat: exchange paste under both." })

step "not-shown" {
  finding = "The fault does not show", suspects = {}, title = "The fault does not show",
  proof = "Full power in both bands as it came, or for half a minute from cold, with nothing put right.",
  advice = "Ask for the owner's exciter, his supply and his leads: one of them is at fault.",
}
step "unclear" {
  finding = "Not separated", suspects = {}, title = "Stopped: no clear reading",
  proof = "A reading this isolation stands on could not be taken, lay on its limit or disagrees with another, or the same cure was tried " ..
          "three times.",
  not_tested = "Everything still open in the list of suspects.",
  advice = "Mend the hookup or take a finer meter, and start again. What was turned stands turned.",
}
