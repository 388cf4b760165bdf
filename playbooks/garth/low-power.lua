-- Low or no output power of a Tarnbeck Garth. The chain is halved at TP2, the drive of the final: before it milliwatts and two small
-- stages, behind it 50 W, a filter bank and everything that gets hot.
require "family"

-- It is not keyed to see the symptom: the first key-down of a run is a reading, with a load that was proved.
playbook {
  id = "garth/low-power", edition = 1,
  title = "Garth amplifier: output power low or absent",
  family = "Tarnbeck Garth",
  first = {
    "Take the antenna off J2 and leave it off: an antenna lead is no load, and what it picks up goes into your meter.",
    "Do not key it to see whether it is true. It is keyed when a load is on, and not before.",
    "Set the bench supply to 28 V, and its current limit to 8 A: a limit of 40 A turns a small fault into a burnt board.",
    "Write down where BAND and PAD stand; the owner's exciter is set up for them.",
  },
  enter = {
    { "nothing", "no power at all, or nothing lights", to = "lamp" },
    { "low", "some power, but too little, in one band or in both", to = "joints" },
    { "fades", "full power at first, then it sinks", to = "cool" },
  },
}

suspect "feed-lead" { title = "the 28 V lead and P1", modes = { "high resistance", "open" }, odds = 3 }
suspect "fuse"      { title = "F1, 28 V fuse", modes = { "open", "poor contact" }, odds = 2 }
suspect "d1"        { title = "D1, reverse-polarity diode", modes = { "short" }, odds = 2 }
suspect "reg"       { title = "U1, 12 V regulator", modes = { "dead", "low" } }
suspect "key-in"    { title = "J3 and the key lead", modes = { "open" }, odds = 2 }
suspect "key-sw"    { title = "Q7, key switch", modes = { "open" } }
suspect "joints"    { title = "a loose or burnt connector", modes = { "loose", "bent pin", "burnt" }, odds = 4 }
suspect "settings"  { title = "PAD or the levelling link left where it does not belong", modes = { "set" }, odds = 2 }
suspect "pad"       { title = "K1, the relay of PAD", modes = { "stuck at 10 dB", "poor contact" } }
suspect "a1"        { title = "A1, first stage", modes = { "dead", "low gain" }, odds = 2 }
suspect "c8"        { title = "C8, between A1 and A2, out of tune", modes = { "shifted" } }
suspect "a2"        { title = "A2, driver module", modes = { "dead", "low gain" }, odds = 3 }
suspect "w2"        { title = "W2, driver to final", modes = { "open", "short" } }
suspect "bias"      { title = "R31, bias of the final, out of adjustment", modes = { "shifted" } }
suspect "u3"        { title = "U3, bias regulator", modes = { "dead" } }
suspect "l9"        { title = "L9, feed choke of the final", modes = { "open", "poor joint" } }
suspect "q3"        { title = "Q3, final", modes = { "input short", "drain short", "low gain" }, odds = 5 }
suspect "match"     { title = "C41, output match, out of tune", modes = { "shifted" } }
suspect "w3"        { title = "W3, final to filter bank", modes = { "open", "poor joint" } }
suspect "k2"        { title = "K2, the relay of BAND", modes = { "stuck", "poor contact" }, odds = 2 }
suspect "f-low"     { title = "FL1, LOW section of the filter bank", modes = { "burnt capacitor" } }
suspect "f-high"    { title = "FL2, HIGH section of the filter bank", modes = { "burnt capacitor" } }
suspect "w4"        { title = "W4, coupler to J2", modes = { "open", "poor joint" }, odds = 2 }
suspect "d4"        { title = "D4, forward detector", modes = { "reads high" } }
suspect "u5"        { title = "U5, levelling amplifier", modes = { "stuck" } }
suspect "rt1"       { title = "RT1, temperature sensor", modes = { "drifted", "open" }, odds = 2 }
suspect "fan"       { title = "M1, fan", modes = { "stopped" }, odds = 2 }
suspect "paste"     { title = "the heat joint under Q3", modes = { "dried paste", "loose screw" }, odds = 2 }

-- The signal's way, for `show`.
chain "signal" { "J1", "pad", "a1", "TP1", "c8", "a2", "TP2", "w2", "q3", "match", "TP3", "w3", "J5", "k2", "TP4", "TP5", "w4", "J2",
                 title = "the signal, from J1 to J2; FL1 or FL2 lies behind K2" }
chain "feed" { "P1", "fuse", "TP6", "l9", "TP10", "q3", title = "28 V, from P1 to the final" }

---------------------------------------------------------------- what many steps share

-- Every level in here is a sum anybody can do in the head, because the drive is always 10 mW at 145 MHz.
local function drive(level)
  return { level or "10 dBm", at = "J1", freq = "145 MHz", hookup = "source lead",
           margin = "The source gives 13 dBm at most, and J1 stands 20 dBm." }
end

-- While power is read at J2 the 30 dB pad is the load. While something else is read, J2 still wants its 50 ohm.
local on_the_pad  = { "50 ohm, the 30 dB power pad", at = "J2", rated = "100 W", time = "60 s" }
local on_the_load = { "50 ohm, the dummy load", at = "J2", rated = "100 W", time = "60 s" }

-- The owner's way of working, and the same with the levelling loop opened, so that nothing hides what the stages can do.
local levelled  = { band = "low", pad = "0 dB", alc = "on" }
local open_loop = { band = "low", pad = "0 dB", alc = "off" }

local function at_j2()
  return { "power", at = "J2", hookup = "power lead", freq = "145 MHz", settle = "2 s", plausible = "-30 dBm .. 50 dBm" }
end
local function at_tap(point)
  return { "power", at = point, hookup = "tap lead", freq = "145 MHz", settle = "2 s", plausible = "-70 dBm .. 15 dBm" }
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
  look = "Switch the bench supply on. What does the green POWER lamp do, and what does the supply's ammeter show?",
  power = "on", minutes = 1,
  note = "Not keyed, it draws about 0.3 A. A supply that sits at its limit has found a short: switch it off again.",
  answers = {
    { "lit", "steady green, about 0.3 A", to = "key-lamp", clears = { "fuse", "d1", "reg" } },
    { "dark", "nothing lights", to = "rails" },
    { "limit", "the supply goes into its limit", to = "bus-ohms", clears = { "feed-lead", "fuse" } },
    { "smoke", "smoke, smell or crackling", stop = true },
  },
}

step "rails" {
  title = "28 V from P1 to the regulator",
  collect = {
    { "p1", "volts", at = "P1", against = "P1 minus", hookup = "prods", limits = "28 V +/- 5 %", plausible = "-40 V .. 40 V" },
    { "bus", "volts", at = "TP6", against = "chassis", hookup = "pin lead", limits = "28 V +/- 5 %", plausible = "-1 V .. 40 V" },
    { "p12", "volts", at = "TP8", against = "chassis", hookup = "pin lead", limits = "12 V +/- 4 %", plausible = "-1 V .. 30 V" },
  },
  power = "on", open = { "top-cover" }, minutes = 4,
  note = "P1 is read at the amplifier, not at the supply: what counts is what arrives. -28 V is a lead made up the wrong way round.",
  decide = function(v, outcome)
    for _, name in ipairs { "p1", "bus", "p12" } do
      if outcome[name] == "unread" or outcome[name] == "unsure" then return "found-supply" end
    end
    if outcome.p1 ~= "ok" then return "found-feed-lead" end
    if outcome.bus ~= "ok" then return "f1-ohms" end
    return outcome.p12 == "ok" and "key-lamp" or "found-reg"
  end,
  to = { { to = "key-lamp", clears = { "feed-lead", "fuse", "d1", "reg" } },
         { to = "f1-ohms", clears = { "feed-lead" } },
         { to = "found-feed-lead", implicates = { "feed-lead" } },
         { to = "found-reg", clears = { "feed-lead", "fuse", "d1" }, implicates = { "reg" } },
         "found-supply" },
}

step "f1-ohms" {
  title = "F1, in its clips", see = "board",
  read = { "continuity", at = "F1", against = "its other end", hookup = "prods", plausible = "0 ohm .. 100 Mohm",
           asks = "Read F1 on its own end caps, then on the clips. Type the worse of the two." },
  limits = "at most 1 ohm", open = { "top-cover" }, minutes = 2,
  ok = { to = "found-supply", clears = { "fuse" } },
  high = { to = "bus-ohms", implicates = { "fuse" } },
  otherwise = "found-supply",
}

step "bus-ohms" {
  title = "28 V bus, before a new fuse goes in",
  read = across("TP6", "chassis"),
  limits = "at least 200 ohm", open = { "top-cover" }, minutes = 2,
  note = "Red prod on TP6. C60 charges through the meter, so it climbs to the 2.2 kohm of its bleeder or a little less.",
  ok = "new-f1", high = "new-f1", low = "lift-l9",
  otherwise = "found-supply",
}

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
  ok = { to = "found-q3", clears = { "d1" }, implicates = { "q3" } },
  high = { to = "found-q3", clears = { "d1" }, implicates = { "q3" } },
  otherwise = "found-supply",
}

step "new-f1" {
  title = "A new F1",
  replace = "F1", text = "10 A quick, as printed beside the clips: nothing bigger, and no wire. Bend the clips until they bite.",
  zone = "inside", open = { "top-cover" }, power = "dead", minutes = 2, most = 1, beyond = "found-supply",
  voids = { "f1-ohms", "rails" },
  next = "lamp-again",
}

step "lamp-again" {
  title = "POWER lamp with the new fuse",
  look = "Switch on, one hand at the switch. What do lamp and ammeter do now?",
  power = "on", open = { "top-cover" }, minutes = 1,
  answers = {
    { "lit", "steady green, about 0.3 A", to = "found-fuse", clears = { "d1", "reg" } },
    { "dark", "dark again", to = "found-supply" },
    { "limit", "the supply goes into its limit", to = "found-supply" },
    { "smoke", "smoke, smell or crackling", stop = true },
  },
}

---------------------------------------------------------------- the key

step "key-lamp" {
  title = "KEY lamp",
  look = "Press the key, without any drive. What do the yellow KEY lamp and the red PROT lamp show?",
  power = "keyed", load = on_the_load, minutes = 2,
  answers = {
    { "key", "KEY lit, PROT dark", to = "joints", clears = { "key-in", "key-sw" } },
    { "prot", "both lit", to = "fins", clears = { "key-in", "key-sw" } },
    { "none", "KEY stays dark", to = "key-volts" },
    { "smoke", "smoke, smell or crackling", stop = true },
  },
}

step "key-volts" {
  title = "Key line", see = "board",
  read = { "volts", at = "TP11", against = "chassis", hookup = "pin lead", plausible = "-1 V .. 15 V" },
  limits = "at most 0.6 V",
  power = "keyed", load = on_the_load, open = { "top-cover" }, minutes = 3,
  note = "12 V at rest. The key pulls it to ground through J3; Q7 comes after it.",
  ok = { to = "found-key-sw", clears = { "key-in" }, implicates = { "key-sw" } },
  low = { to = "found-key-sw", clears = { "key-in" }, implicates = { "key-sw" } },
  high = { to = "found-key-in", clears = { "key-sw" }, implicates = { "key-in" } },
  otherwise = "found-key",
}

-- Two minutes here save an hour further down: one Garth in four has a loose nut.
counter "reseats" { most = 2, beyond = "found-joints-worn" }

step "joints" {
  title = "Before it is driven",
  checklist = {
    { "pins", "Are the centre pins of J1 and J2 straight, and at their full height?" },
    { "tight", "Are J1 and J2 tight, with no play in the panel?" },
    { "inside", "Are W2, W3 and W4 tight at both ends, and is no plug brown?" },
  },
  power = "off", open = { "top-cover" }, minutes = 4,
  ok = { to = "as-found", clears = { "joints" } }, unread = "as-found",
  low = { to = "reseat", implicates = { "joints" }, counts = "reseats" },
  otherwise = "as-found",
}

step "reseat" {
  title = "Put it right",
  act = "Clean and tighten what you found: SMA to 0.9 N m, N to 1.2 N m. Exchange a connector with a bent or burnt pin.",
  zone = "inside", open = { "top-cover" }, power = "off", minutes = 10,
  next = "reseated",
}

step "reseated" {
  title = "Power after the connectors",
  inject = drive(),
  read = at_j2(), limits = "46 dBm .. 48.5 dBm",
  set = levelled, power = "keyed", load = on_the_pad, open = { "top-cover" }, minutes = 3,
  ok = "found-joints", high = "found-joints", unsure = "found-joints",
  low = "joints", unread = "unread",
}

---------------------------------------------------------------- output

step "as-found" {
  title = "Power, as it came",
  inject = drive(),
  read = at_j2(), limits = "46 dBm .. 48.5 dBm",
  power = "keyed", load = on_the_pad, open = { "top-cover" }, minutes = 3,
  note = "BAND and PAD as the owner had them. 50 W is 47 dBm; less 30 dB for the pad and a little for the cable, the meter shows 17 dBm.",
  ok = "bands-apart", high = "bands-apart", low = "output", unsure = "output", unread = "unread",
}

step "output" {
  title = "Power in LOW, PAD at 0 dB",
  inject = drive(),
  read = at_j2(), limits = "46 dBm .. 48.5 dBm",
  set = levelled, power = "keyed", load = on_the_pad, open = { "top-cover" }, minutes = 3, most = 3, beyond = "found-final",
  ok = "bands-apart", high = "bands-apart", low = { to = "prot", clears = { "settings" } }, unsure = "prot", unread = "unread",
}

-- One pad, one meter: what they are wrong by is in both readings, and falls out of the difference.
step "bands-apart" {
  title = "LOW against HIGH",
  inject = drive(),
  read = {
    named("low", at_j2(), { set = { band = "low" } }),
    named("high", at_j2(), { set = { band = "high" } }),
  },
  difference = { "low", "high" }, limits = "0 dB +/- 1 dB",
  set = { pad = "0 dB", alc = "on" }, power = "keyed", load = on_the_pad, open = { "top-cover" }, minutes = 4,
  note = "Both sections of the filter bank pass 145 MHz.",
  ok = "what-helped", unread = "unread", otherwise = "bank",
}

step "what-helped" {
  title = "What put it right?",
  uses = { as_found = "as-found", bias = "bias-set", low = "drive-both/low", high = "drive-both/high" },
  decide = function(v, outcome)
    if outcome.bias == "ok" then return "found-bias" end
    if outcome.low == "ok" and outcome.high == "ok" then return "found-c8" end
    return outcome.as_found == "low" and "found-settings" or "not-shown"
  end,
  to = { "found-bias", "found-c8", { to = "found-settings", implicates = { "settings" } }, "not-shown" },
}

step "prot" {
  title = "PROT lamp under drive",
  inject = drive(),
  look = "Key it with the drive on. What does the red PROT lamp do?",
  set = levelled, power = "keyed", load = on_the_load, open = { "top-cover" }, minutes = 2,
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
  set = levelled, power = "keyed", load = on_the_load, open = { "top-cover" }, minutes = 4,
  note = "The load was proved at low power. What comes back all the same comes from between the coupler and J2.",
  ok = { to = "fins", clears = { "w4" } }, high = { to = "fins", clears = { "w4" } },
  low = { to = "found-w4", clears = { "rt1" }, implicates = { "w4" } },
  otherwise = "unread",
}

step "open-loop" {
  title = "Power without levelling",
  inject = drive(),
  read = at_j2(), limits = "46 dBm .. 49 dBm",
  set = open_loop, power = "keyed", load = on_the_pad, open = { "top-cover" }, minutes = 4,
  note = "X4 parted, A1 runs at full gain. If the power comes now, nothing is weak: it is held back. X4 goes in again before the cover.",
  ok = "bar", high = "bar",
  low = { to = "tp2-drive", clears = { "d4", "u5" } },
  unsure = "tp2-drive", unread = "unread",
}

step "bar" {
  title = "PWR bar against the meter",
  inject = drive(),
  compare = "Key it with the drive on. Does the PWR bar show what the meter shows? A segment is 5 W.",
  set = levelled, power = "keyed", load = on_the_pad, open = { "top-cover" }, minutes = 3,
  note = "The bar and the levelling both live on D4. A bar that boasts is a detector that boasts.",
  same = { to = "found-u5", clears = { "d4" }, implicates = { "u5" } },
  different = { to = "found-d4", clears = { "u5" }, implicates = { "d4" } },
  unclear = "found-levelling",
}

---------------------------------------------------------------- halved at TP2

step "tp2-drive" {
  title = "Drive of the final",
  inject = drive(),
  read = at_tap "TP2", limits = "7 dBm +/- 1.5 dB",
  set = open_loop, power = "keyed", load = on_the_load, open = { "top-cover" }, minutes = 3,
  note = "10 dBm in, A1 12 dB, A2 15 dB: 37 dBm, 5 W, on the line. The tap takes 30 dB off.",
  ok = { to = "tp3-level", clears = { "pad", "a1", "c8", "a2", "w2" } },
  high = { to = "tp3-level", clears = { "pad", "a1", "c8", "a2", "w2" } },
  low = { to = "driver-alone", clears = { "match", "w3", "k2", "f-low", "f-high" } },
  unsure = "driver-alone", unread = "unread",
}

step "tp3-level" {
  title = "After the final",
  inject = drive(),
  read = at_tap "TP3",
  uses = { drive = "tp2-drive" },
  -- The final has 10.8 dB, TP2 is tapped 30 dB down and TP3 40 dB: TP3 reads 0.8 dB above TP2, whatever the drive is.
  limits = function(v)
    local drive = v.drive or 7
    return { drive + 0.8 - 1.5, drive + 0.8 + 1.5 }
  end,
  set = open_loop, power = "keyed", load = on_the_load, open = { "top-cover" }, minutes = 2,
  ok = { to = "coupling-stamp", clears = { "bias", "u3", "l9", "q3", "match" } },
  high = { to = "coupling-stamp", clears = { "bias", "u3", "l9", "q3", "match" } },
  low = { to = "final-drain", clears = { "w3", "k2", "f-low", "f-high" } },
  unsure = "final-drain", unread = "unread",
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
  limits = function(v)
    local expected = (v.before or 7.8) + 40 - 0.6 - (v.coupling or 40)
    return { expected - 1.2, expected + 1.2 }
  end,
  set = open_loop, power = "keyed", load = on_the_load, open = { "top-cover" }, minutes = 2,
  note = "What TP3 said on the line, less 0.6 dB of filter bank, less the coupling.",
  ok = { to = "found-w4", clears = { "w3", "k2", "f-low", "f-high" }, implicates = { "w4" } },
  high = { to = "found-w4", clears = { "w3", "k2", "f-low", "f-high" }, implicates = { "w4" } },
  low = "bank", unsure = "bank", unread = "unread",
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
    limits = "-0.8 dBm +/- 0.7 dB",
  },
  power = "on", open = { "top-cover" }, breaks = { "w3" }, minutes = 6,
  note = "Filters 0.6 dB, coupler 0.2 dB. The pad stays on J2: no reading is worth forgetting it once.",
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
    if open then return "found-bank" end
    if bad.low then return "found-f-low" end
    if bad.high then return "found-f-high" end
    return v.final and "found-w3" or "drive-both"
  end,
  to = { "found-k2", "found-f-low", "found-f-high", "found-bank", { to = "found-w3", implicates = { "w3" } }, "drive-both" },
}

-- the final itself

step "final-drain" {
  title = "Drop across L9", see = "board",
  read = { "volts", at = "TP10", against = "TP6", hookup = "pin lead", plausible = "-40 V .. 2 V" },
  limits = "-0.3 V .. 0.1 V",
  power = "keyed", load = on_the_load, open = { "top-cover" }, minutes = 3,
  note = "Keyed without drive: only the idle current flows through L9. Against TP6, so that the supply itself does not matter.",
  ok = { to = "final-bias", clears = { "l9" } },
  low = { to = "found-l9", implicates = { "l9" } },
  unread = "unread", otherwise = "final-bias",
}

step "final-bias" {
  title = "Bias of the final", see = "board",
  read = { "volts", at = "TP7", against = "chassis", hookup = "pin lead", plausible = "-1 V .. 10 V" },
  limits = "2.8 V +/- 8 %",
  power = "keyed", load = on_the_load, open = { "top-cover" }, minutes = 2,
  note = "Keyed without drive.",
  ok = { to = "drive-up", clears = { "bias", "u3" } },
  low = "bias-set", high = "bias-set", otherwise = "unread",
}

step "bias-set" {
  title = "Idle current, R31", see = "connectors",
  adjust = { "Turn R31 slowly with the insulated trimmer, through the hole marked BIAS in the side.", tries = 4,
             read = { "amps", at = "P1", hookup = "clamp", plausible = "-1 A .. 15 A",
                      asks = "Key it without drive, read the clamp around the red core of the 28 V lead, release the key." } },
  limits = "1.1 A +/- 0.1 A",
  outside = true, power = "keyed", load = on_the_load, open = { "top-cover" }, minutes = 5,
  note = "0.3 A of the rest, 0.8 A of the final. Begin fully counter-clockwise: idle current that is too high kills Q3 in seconds.",
  ok = { to = "output", clears = { "u3" }, implicates = { "bias" } },
  low = { to = "found-u3", clears = { "bias" }, implicates = { "u3" } },
  high = { to = "found-q3", implicates = { "q3" } },
  otherwise = "found-final",
}

-- Supply and bias come first: a final without its bias, driven hard, is a dead final. A drop that was read too coarsely is read again.
step "drive-up" {
  title = "Bring up the drive", see = "connectors",
  passed = { "final-drain", "final-bias" }, not_yet = "final-drain", most = 3, beyond = "found-final",
  inject = drive "0 dBm",
  watch = {
    "Turn the source up by 2 dB a round: 2 dB over the level named here in the first, 10 dB over it in the fifth.", tries = 5,
    read = {
      named("out", at_tap "TP3", { limits = "at most 9 dBm" }),
      { "current", "amps", at = "P1", hookup = "clamp", plausible = "-1 A .. 15 A", limits = "at most 4.6 A" },
    },
  },
  set = open_loop, power = "keyed", load = on_the_load, open = { "top-cover" }, outside = true, minutes = 6,
  note = "From 0 to 10 dBm. 50 W cost about 4 A. Current without power is heat; power that jumps is an oscillator, no amplifier.",
  ok = "match-peak", high = "match-peak", unsure = "match-peak", otherwise = "unread",
}

step "match-peak" {
  title = "Output match, C41",
  inject = drive(),
  adjust = { "Turn C41 with the insulated trimmer, through the hole marked OUT in the side, no more than an eighth of a turn either way.",
             tune = "peak", tries = 2, read = at_j2() },
  limits = "at least 46 dBm",
  set = open_loop, power = "keyed", load = on_the_pad, open = { "top-cover" }, outside = true, minutes = 5,
  note = "Mark where it stood. A match that has wandered further than that has something burnt beside it.",
  ok = { to = "found-match", clears = { "q3" }, implicates = { "match" } },
  low = { to = "found-q3", clears = { "match" }, implicates = { "q3" } },
  otherwise = "found-final",
}

---------------------------------------------------------------- before TP2

step "driver-alone" {
  title = "Driver into the pad instead of the final", see = "board",
  inject = drive(),
  read = { "power", at = "W2", hookup = "power lead", freq = "145 MHz", settle = "2 s", plausible = "-30 dBm .. 42 dBm" },
  limits = "37 dBm +/- 1.5 dB",
  set = open_loop, power = "keyed", load = on_the_load, open = { "top-cover" }, breaks = { "w2" },
  minutes = 6,
  note = "5 W at the end of W2. If they are there now and were not before, it is the final that eats them.",
  ok = { to = "q3-input", clears = { "pad", "a1", "c8", "a2", "w2" } },
  high = { to = "q3-input", clears = { "pad", "a1", "c8", "a2", "w2" } },
  low = { to = "first-stage", clears = { "q3" } },
  unsure = "first-stage", unread = "unread",
}

step "q3-input" {
  title = "Input of the final",
  read = across("Q3", "chassis", "Take the termination off the final's input, read from its pin to chassis, and put it back."),
  limits = "at least 1 kohm", open = { "top-cover" }, breaks = { "w2" }, minutes = 4,
  low = { to = "found-q3", implicates = { "q3" } },
  otherwise = "found-final",
}

-- Two positions tell a weak stage from a pad that never goes out.
step "first-stage" {
  title = "A1, with PAD out and in",
  inject = drive(),
  collect = {
    named("straight", at_tap "TP1", { set = { pad = "0 dB" }, limits = "2 dBm +/- 1.5 dB" }),
    named("padded", at_tap "TP1", { set = { pad = "10 dB" }, limits = "-8 dBm +/- 1.5 dB" }),
  },
  set = { band = "low", alc = "off" }, power = "keyed", load = on_the_load, open = { "top-cover" }, minutes = 4,
  note = "10 dBm in, 12 dB of A1, tapped 20 dB down.",
  decide = function(v, outcome)
    if outcome.straight == "unread" or outcome.padded == "unread" then return "unread" end
    if outcome.straight == "ok" or outcome.straight == "high" then return "drive-both" end
    if not v.straight or not v.padded then return "found-driver" end
    local pad = v.straight - v.padded
    return pad > 8.5 and pad < 11.5 and "found-a1" or "found-pad"
  end,
  to = { { to = "drive-both", clears = { "pad", "a1" } },
         { to = "found-a1", clears = { "pad" }, implicates = { "a1" } },
         { to = "found-pad", implicates = { "pad" } }, "found-driver", "unread" },
}

step "drive-both" {
  title = "Drive in both bands, C8",
  inject = drive(),
  adjust = {
    "Turn C8 a little with the insulated trimmer, through the hole marked DRIVE in the side.", tries = 4,
    read = {
      named("low", at_tap "TP2", { set = { band = "low" }, limits = "7 dBm +/- 1.2 dB" }),
      named("high", at_tap "TP2", { set = { band = "high" }, limits = "7 dBm +/- 1.2 dB" }),
    },
  },
  set = { pad = "0 dB", alc = "off" }, power = "keyed", load = on_the_load, open = { "top-cover" }, outside = true,
  minutes = 8,
  note = "A peak in one band starves the other. What you want is the setting both can live with.",
  ok = { to = "output", clears = { "a2" }, implicates = { "c8" } },
  unread = "unread", otherwise = { to = "new-a2", clears = { "c8" } },
}

step "new-a2" {
  title = "The shop's A2",
  replace = "A2", text = "The driver is a module on two plugs and four screws. Put the shop's own in, with fresh paste.",
  zone = "inside", open = { "top-cover" }, power = "off", minutes = 10, most = 1, beyond = "found-driver",
  voids = { "tp2-drive", "output" }, retest = { "tp2-drive", "output" },
  next = { to = "found-a2", implicates = { "a2" } },
}

---------------------------------------------------------------- heat

counter "coolings" { most = 3, beyond = "unread" }

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
  otherwise = "unread",
}

step "fade" {
  title = "Half a minute of power",
  inject = drive(),
  look = "Key it six times, 5 s each with a breath between, and watch the meter behind the pad and the PROT lamp. What happens?",
  set = { band = "low", pad = "0 dB" }, power = "keyed", load = on_the_pad, minutes = 3,
  note = "Full power is about 17 dBm on the meter.",
  answers = {
    { "steady", "the sixth time as the first, within half a dB", to = "not-shown" },
    { "weak", "it never gets there", to = "joints" },
    { "sinks", "it sinks, and PROT stays dark", to = "found-paste", clears = { "rt1", "fan" }, implicates = { "paste" } },
    { "prot", "it sinks as PROT lights", to = "fins", clears = { "paste" } },
    { "smoke", "smoke, smell or crackling", stop = true },
  },
}

step "fins" {
  title = "Fins, when PROT lights", see = "connectors",
  read = { "temperature", at = "fins", hookup = "thermometer", settle = "10 s", plausible = "-10 degC .. 150 degC" },
  limits = "at most 65 degC", power = "off", outside = true, holds = "all", minutes = 1,
  note = "PROT holds back from 70 degC on. The fins keep their heat for minutes; switch off first, then read.",
  ok = { to = "rt1-ohms", clears = { "fan" } },
  high = { to = "found-fan", clears = { "rt1" }, implicates = { "fan" } },
  unsure = "rt1-ohms", otherwise = "unread",
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
  ok = { to = "found-u5", clears = { "rt1" }, implicates = { "u5" } },
  low = { to = "found-rt1", clears = { "u5" }, implicates = { "rt1" } },
  high = { to = "found-rt1", clears = { "u5" }, implicates = { "rt1" } },
  otherwise = "found-levelling",
}

---------------------------------------------------------------- ends

local function found(id, t)
  step("found-" .. id)(t)
end

found("supply", { finding = { "feed-lead", "fuse", "d1", "reg", "q3" }, separated = false, title = "28 V side, not separated",
  proof = "Nothing lights, or the supply goes into its limit.",
  not_tested = "The reading that would have told these apart lay on its limit, could not be taken, or a new fuse did not help." })
found("feed-lead", { finding = { "feed-lead" }, title = "The 28 V lead",
  proof = "28 V do not arrive at P1.",
  not_tested = "D1, if the lead was the wrong way round: read the bus before the lead goes back on." })
found("fuse", { finding = { "fuse" }, title = "F1 had blown; the new one holds",
  proof = "F1 or its clips read open, nothing behind it is shorted, and the lamp is lit with a new one.",
  not_tested = "Why it blew, and the power: enter again at low." })
found("d1", { finding = { "d1" }, title = "D1, reverse-polarity diode",
  proof = "The 28 V bus stays shorted with the final lifted off it.",
  advice = "It died of a lead the wrong way round: find that lead. L9 wants soldering back." })
found("reg", { finding = { "reg" }, title = "U1, 12 V regulator",
  proof = "28 V go in at TP6, and TP8 is not 12 V.",
  not_tested = "A short on the 12 V line pulls it down the same way: feel for what is hot." })
found("key-in", { finding = { "key-in" }, title = "J3 or the key lead", proof = "The key line stays up with the key pressed." })
found("key-sw", { finding = { "key-sw" }, title = "Q7, key switch", proof = "The key pulls its line to ground, and KEY stays dark." })
found("key", { finding = { "key-in", "key-sw" }, separated = false, title = "The key, not separated",
  proof = "KEY stays dark.", not_tested = "The key line could not be read, or lay on its limit." })
found("joints", { finding = { "joints" }, title = "A loose or burnt connector",
  proof = "Full power, once the connectors were put right.",
  not_tested = "How long it holds: key it six times, and feel the connector afterwards, with the power off." })
found("joints-worn", { finding = { "joints" }, title = "Connectors that do not stay put right",
  proof = "They were put right twice, and the power did not come.",
  advice = "Exchange W2, W3 and W4 as a set, then start again." })
found("settings", { finding = { "settings" }, title = "It was set wrong",
  proof = "Little power as it came; all of it with PAD at 0 dB and the levelling link in.",
  advice = "Tell the owner, and ask what the exciter gives: with 100 mW, PAD belongs at 10 dB." })
found("pad", { finding = { "pad" }, title = "K1, the relay of PAD",
  proof = "A1 gives too little with PAD out, and PAD does not make its 10 dB." })
found("a1", { finding = { "a1" }, title = "A1, first stage",
  proof = "PAD makes its 10 dB, and TP1 is low all the same, levelling open." })
found("c8", { finding = { "c8" }, title = "C8 was out of tune",
  proof = "One setting of C8 brings drive in both bands, and the power with it.",
  not_tested = "Why it moved: seal it." })
found("a2", { finding = { "a2" }, title = "A2, driver module",
  proof = "Right before it, low behind it into any load, and the shop's own brings drive and power back." })
found("driver", { finding = { "pad", "a1", "c8", "a2", "w2" }, separated = false, title = "Driver side, not separated",
  proof = "The drive at TP2 is low.", not_tested = "Another A2 did not help, or a reading lay on its limit. W2 by itself comes next." })
found("l9", { finding = { "l9" }, title = "L9, feed choke of the final",
  proof = "28 V before L9, and less behind it with idle current alone." })
found("u3", { finding = { "u3" }, title = "U3, bias regulator", proof = "R31 does not bring the idle current up." })
found("bias", { finding = { "bias" }, title = "R31 was out of adjustment",
  proof = "With the idle current set, the power is there.", not_tested = "Why it moved: look again when warm, then seal it." })
found("q3", { finding = { "q3" }, title = "Q3, final",
  proof = "It shorts the bus or its own input, cannot be biased, or gives too little with drive, supply, bias and match right.",
  advice = "Clean the seat, fresh paste, screws crosswise to 0.6 N m. Idle current before drive, drive before power." })
found("match", { finding = { "match" }, title = "C41 was out of tune", proof = "C41 brings the power back.",
  not_tested = "Why it moved. Look at the capacitors beside it through a glass." })
found("final", { finding = { "q3", "match", "bias", "l9" }, separated = false, title = "The final, not separated",
  proof = "The drive is right, or only the final keeps it from being so, and the power is not.",
  not_tested = "The readings that would have told these apart lay on their limits, or the same cure was tried three times." })
found("w3", { finding = { "w3" }, title = "W3, final to filter bank",
  proof = "The power is there before it and not behind the bank, and the bank loses nothing by itself." })
found("k2", { finding = { "k2" }, title = "K2, the relay of BAND", proof = "Both sections lose too much, and K2 is what they share.",
  not_tested = "Two burnt sections at once. Look at them before the relay is ordered." })
found("f-low", { finding = { "f-low" }, title = "FL1, LOW section",
  proof = "LOW loses too much, and HIGH passes through the same relay." })
found("f-high", { finding = { "f-high" }, title = "FL2, HIGH section",
  proof = "HIGH loses too much, and LOW passes through the same relay." })
found("bank", { finding = { "k2", "f-low", "f-high", "w3" }, separated = false, title = "Behind the final, not separated",
  proof = "One band gives less than the other, or power is lost between the final and the coupler.",
  not_tested = "A reading of the bank lay on its limit, or could not be taken: read it to a tenth of a decibel." })
found("w4", { finding = { "w4" }, title = "W4, coupler to J2",
  proof = "The coupler passes full power forward and J2 does not give it, or it sees power come back with a good load on." })
found("d4", { finding = { "d4" }, title = "D4, forward detector",
  proof = "Full power with the loop open, and the PWR bar shows more than the meter with it closed." })
found("u5", { finding = { "u5" }, title = "U5, levelling amplifier",
  proof = "It holds the power back although its sensors tell the truth." })
found("levelling", { finding = { "d4", "u5", "rt1" }, separated = false, title = "Levelling, not separated",
  proof = "The power is held back.", not_tested = "The bar could not be compared, or RT1 lay on its limit." })
found("rt1", { finding = { "rt1" }, title = "RT1, temperature sensor",
  proof = "PROT lights with cool fins, and RT1 is not what it should be at that temperature." })
found("fan", { finding = { "fan" }, title = "M1, fan", proof = "The fins are too hot after half a minute.",
  not_tested = "Whether the fan turns: hold a strip of paper to it. A turning fan behind dusty fins reads the same." })
found("paste", { finding = { "paste" }, title = "The heat joint under Q3",
  proof = "The power sinks within half a minute from cold, and nothing holds it back.",
  not_tested = "A2 has the same kind of seat: exchange paste under both." })

step "not-shown" {
  finding = "The fault does not show", suspects = {}, title = "The fault does not show",
  proof = "Full power in both bands, or for half a minute, with nothing put right.",
  advice = "Ask for the owner's exciter, his supply and his leads: one of them is at fault.",
}
step "unread" {
  finding = "A reading could not be taken", suspects = {}, title = "Stopped for want of a reading",
  proof = "A reading this isolation stands on could not be taken, or it never cooled.",
  not_tested = "Everything after that reading.", advice = "Mend the hookup, then start again.",
}
