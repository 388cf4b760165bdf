-- One channel of an Orrin Vale Linnet is weak, dead, thin, distorted or noisy. Four questions are asked at the outputs, in this order: is
-- the level right, is it clean, is the bass there, is it quiet. The first that is not leads into the strip, which is halved at TP3; what
-- the two sides, and the neighbour, say first tells the strip from the buses.
require "family"

playbook {
  id = "linnet/channel-weak", edition = 1,
  title = "Linnet desk: one channel weak, dead, distorted or noisy",
  family = "Orrin Vale Linnet",
  first = {
    "Turn down the amplifiers behind it, and take the headphones off: a channel that comes back may come back loud.",
    "Switch P48 off on this channel and its neighbour, wait ten seconds, then take everything off their inputs: 48 V into a ribbon " ..
      "microphone or a tape machine is a second repair.",
    "Take the plug out of the insert J3: what hangs there stands in the signal's way.",
    "Write down where every knob of the channel stands; the owner has a mix set up.",
  },
  symptom = {
    "the channel is weak, dead, thin, distorted or noisy",
    under = "as the owner left it, with his microphone or a source of his",
    power = "on", tries = 2, absent = "not-shown",
  },
  tools = { "headphones", "a soft stand for the desk on its rear edge" },
}

-- What each mode shows where the line-up does not tell of it; `healthy` says the rest.
local both = { "left", "right" }
local function on_both(step, value, shows)
  for _, side in ipairs(both) do shows[step .. "/" .. side] = value end
  return shows
end
-- Distortion or noise is there from a place on.
local function dirty_from(first, shows)
  local on = false
  for _, tp in ipairs { "tp1", "tp3", "tp4", "tp5" } do
    on = on or tp == first
    if on then shows["dirt-along/" .. tp] = "0.8 % +/- 0.2 %" end
  end
  return on_both("dirt", "0.8 % +/- 0.2 %", shows)
end
local function noise(level, shows)
  return on_both("noise", level, shows)
end

suspect "settings" { title = "a knob of the channel, as the owner had it", modes = { "set" }, odds = 3,
  shows = { set = { settings = "wrong" } } }
suspect "supply" { title = "the supply, +17 or -17 V", modes = { "low", "ripple" }, shows = {
  low = { ["rails/p17"] = "14.8 V +/- 3 %", ["bars/p17"] = "14.9 V +/- 3 %" },
  ripple = { ["rails/n-ripple"] = "0.12 V", ["bars/n-ripple"] = "0.13 V" } } }
suspect "r70" { title = "R70 or R71, fusible resistor of the strip", modes = { "R70 open", "R71 risen" }, odds = 2, shows = {
  ["R70 open"] = { ["rails/p17"] = "0.3 V", ["strip-dead/r70"] = "OL" },
  ["R71 risen"] = { ["rails/n17"] = "-13.1 V +/- 4 %", ["strip-dead/r71"] = "150 ohm" } } }
suspect "c70" { title = "C70 or C71, across the strip's rails", modes = { "shorted", "leaks" }, odds = 2, shows = {
  shorted = { ["rails/p17"] = "0.1 V", ["strip-dead/r70"] = "OL", ["strip-dead/p-load"] = "1.4 ohm" },
  leaks = { ["rails/n17"] = "-12.4 V +/- 4 %", ["strip-dead/n-load"] = "27 ohm" } } }
suspect "u48" { title = "U48, supply of 48 V", modes = { "dead" }, shows = {
  dead = { ["p48-on/pin2"] = "0.1 V", ["p48-on/pin3"] = "0.1 V", ["p48-beside"] = "0.1 V" } } }
suspect "s1" { title = "S1, P48 switch of the channel", modes = { "stuck on", "open" }, odds = 2, shows = {
  ["stuck on"] = { ["p48-gone/pin2"] = "47.8 V", ["p48-gone/pin3"] = "47.8 V" },
  open = { ["p48-on/pin2"] = "0.1 V", ["p48-on/pin3"] = "0.1 V" } } }
suspect "r1" { title = "R1 or R2, 6.81 kohm of 48 V", modes = { "one open" }, shows = { ["one open"] = { ["p48-on/pin3"] = "0.2 V" } } }
suspect "j1" { title = "J1 and its leads", modes = { "pin open", "poor contact" }, odds = 3, shows = {
  ["pin open"] = { ["input-dead/pin3"] = "OL" }, ["poor contact"] = { ["input-dead/pin2"] = "> 400 ohm" } } }
suspect "s2" { title = "S2, PAD", modes = { "stuck in", "stuck out" } }
suspect "c1" { title = "C1 or C2, input capacitor", modes = { "leaks", "dried", "one leg open" }, odds = 2, shows = {
  leaks = { ["p48-on/tp1"] = "2.1 V +/- 20 %" }, ["one leg open"] = { ["input-dead/c2"] = "0.2 uF" } } }
suspect "s5" { title = "S5, GAIN switch", modes = { "contact open", "too high", "scratches" }, odds = 2, shows = {
  ["contact open"] = { ["input-dead/gain"] = "OL" }, scratches = { knobs = "gain" } } }
suspect "a1" { title = "A1, microphone amplifier", modes = { "dead", "low gain", "off zero", "distorts", "hiss" }, odds = 3, shows = {
  ["off zero"] = { ["p48-on/tp1"] = "2.6 V +/- 20 %", ["zeroes/tp1"] = "2.6 V +/- 20 %" },
  distorts = dirty_from("tp1", {}),
  hiss = noise("-62 dBu", { ["noise-beside"] = "different", ["noise-kind"] = "hiss", ["noise-tp1"] = "-66 dBu" }) } }
suspect "s3" { title = "S3, LOW CUT", modes = { "stuck in", "dirty contact" } }
suspect "a2" { title = "A2, behind LOW CUT", modes = { "dead", "off zero", "distorts", "hiss" }, odds = 2, shows = {
  ["off zero"] = on_both("dirt", "0.5 %", { ["zeroes/tp2"] = "-1.3 V +/- 20 %" }),
  distorts = dirty_from("tp3", {}),
  hiss = noise("-66 dBu", { ["noise-beside"] = "different" }) } }
suspect "s4" { title = "S4, EQ switch", modes = { "dirty contact" } }
suspect "a3" { title = "A3, equaliser", modes = { "dead", "low gain" }, odds = 2 }
suspect "c30" { title = "C30, into the insert", modes = { "open", "dried" } }
suspect "j3" { title = "J3, normal contact of the insert", modes = { "oxidised", "does not close" }, odds = 5, shows = {
  oxidised = { ["insert-ohms"] = "80 kohm" }, ["does not close"] = { ["insert-ohms"] = "OL" } } }
suspect "rv5" { title = "RV5, fader", modes = { "worn", "wiper open", "scratches" }, odds = 4, shows = {
  worn = { ["fader-ohms"] = "38 kohm" }, ["wiper open"] = { ["fader-ohms"] = "OL" }, scratches = { knobs = "fader" } } }
suspect "a4" { title = "A4, fader amplifier", modes = { "dead", "low gain", "off zero", "distorts", "hiss" }, odds = 2, shows = {
  ["off zero"] = on_both("dirt", "0.5 %", { ["zeroes/tp4"] = "1.9 V +/- 20 %" }),
  distorts = dirty_from("tp4", {}),
  hiss = noise("-68 dBu", { ["noise-beside"] = "different", ["noise-down"] = "-68 dBu" }) } }
suspect "q5" { title = "Q5, mute", modes = { "stuck muting", "half on", "distorts" }, shows = { distorts = dirty_from("tp5", {}) } }
suspect "u6" { title = "U6 or S6, what drives Q5", modes = { "stuck muting" }, odds = 2, shows = {
  ["stuck muting"] = { ["mute-volts"] = "-14.4 V +/- 4 %" } } }
suspect "rv6" { title = "RV6, PAN", modes = { "wiper open", "left open", "right open", "scratches" }, odds = 2,
  shows = { scratches = { knobs = "pan" } } }
suspect "r60" { title = "R60 or R61, into the buses", modes = { "left open", "right open" } }
suspect "a5" { title = "A5, bus amplifiers", modes = { "left dead", "right dead", "left distorts", "right hums" }, shows = {
  ["left distorts"] = { ["dirt/left"] = "0.7 %", ["dirt-behind/left"] = "0.7 %" },
  ["right hums"] = { ["noise/right"] = "-60 dBu", ["noise-behind/right"] = "-66 dBu" } } }
suspect "rv91" { title = "RV91, main fader", modes = { "left worn", "right worn" } }
suspect "a7" { title = "A7, line amplifiers",
  modes = { "left dead", "right dead", "left one leg", "right one leg", "right distorts", "left hiss" },
  shows = {
  ["right distorts"] = { ["dirt/right"] = "0.6 %" }, ["left hiss"] = { ["noise/left"] = "-66 dBu" } } }
suspect "star" { title = "the ground strap E1 of the strips' rail", modes = { "loose" }, shows = {
  loose = noise("-57 dBu", { ["noise-beside"] = "same", ["strap-ohms"] = "2.4 ohm" }) } }
suspect "e9" { title = "the ground screw E9 of the strip", modes = { "loose" }, odds = 2, shows = {
  loose = noise("-55 dBu", {
    ["noise-beside"] = "different", ["noise-tp1"] = "-58 dBu", ["noise-kind"] = "hum", ["screw-ohms"] = "3.6 ohm" }) } }

local quiet = "-82 dBu +/- 2 dB"
healthy(on_both("noise", quiet, on_both("noise-behind", "-90 dBu +/- 2 dB", on_both("dirt", "0.02 %", on_both("dirt-behind", "0.02 %", {
  settings = "right", knobs = "quiet", ["noise-beside"] = "different", ["noise-kind"] = "hiss",
  ["rails/p17"] = "16.9 V +/- 2 %", ["rails/n17"] = "-16.9 V +/- 2 %", ["bars/p17"] = "17 V +/- 2 %", ["bars/n17"] = "-17 V +/- 2 %",
  ["rails/p-ripple"] = "1 mV", ["rails/n-ripple"] = "1 mV", ["bars/p-ripple"] = "2 mV", ["bars/n-ripple"] = "2 mV",
  ["strip-dead/p-load"] = "1.2 kohm", ["strip-dead/n-load"] = "1.2 kohm",
  ["noise-tp1"] = "-88 dBu +/- 1 dB", ["noise-down"] = quiet,
  ["p48-gone/pin2"] = "0.02 V", ["p48-gone/pin3"] = "0.02 V", ["p48-gone/beside"] = "0.02 V",
  ["insert-ohms"] = "0.05 ohm", ["strap-ohms"] = "0.02 ohm", ["screw-ohms"] = "0.03 ohm",
})))))

-- The signal's way, for `show`.
chain "signal" {
  "J1", "j1", "s2", "c1", "s5", "a1", "TP1", "s3", "a2", "s4", "a3", "TP2", "c30", "j3", "TP3", "rv5", "a4", "TP4", "q5", "u6", "TP5",
  "rv6", "TP10", "r60", "a5", "TP12", "rv91", "TP14", "a7", "J2",
  title = "the signal, from J1 to the left output; the right one is built alike",
}
chain "supply" { "supply", "B1", "r70", "TP6", "c70", title = "+17 V, from the bus bar to the strip" }

---------------------------------------------------------------- what many steps share

-- Where every level below is counted.
local straight = {
  p48 = "off", pad = "out", gain = "40", hpf = "out", eq = "out", fader = "0 mark", mute = "off", pan = "centre", main = "0 mark",
}
local function but(changes)
  local set = {}
  for control, position in pairs(straight) do set[control] = position end
  for control, position in pairs(changes) do set[control] = position end
  return set
end
local below = { "bottom-cover" }

local function tone(freq)
  return { "-40 dBu", at = "J1", freq = freq or "1 kHz", hookup = "tone lead" }
end

-- Elements at their worst at once are no fault, and neither is what meter and source cannot decide.
local banded = { "channel", worst = true, wider = "0.6 dB" }
local banded_beside = { "neighbour", worst = true, wider = "0.6 dB" }

local span = "-110 dBu .. 26 dBu"
local function level(name, at, hookup, t)
  local reading = { name, "ac volts", at = at, hookup = hookup, unit = "dBu", plausible = span }
  for key, value in pairs(t or {}) do reading[key] = value end
  return reading
end
local function on_the_strip(at)
  return { "ac volts", at = at, against = "the strip's GND pin", hookup = "hook lead", unit = "dBu", plausible = span }
end
local function out(t)
  return { level("left", "J2", "output lead", t), level("right", "J22", "output lead", t) }
end

local function bad(came) return came == "low" or came == "high" end
-- The first of the names that is bad; or "?" when one before it could not be told.
local function first_bad(outcome, names)
  for _, name in ipairs(names) do
    if bad(outcome[name]) then return name end
    if outcome[name] ~= "ok" then return "?" end
  end
  return nil
end

---------------------------------------------------------------- before anything goes in

step "settings" {
  title = "As the owner left it", see = "blocks",
  look = "Look at the knobs as you wrote them down. Is there anything among them that makes this fault by itself: MUTE or PAD in, " ..
         "LOW CUT in, GAIN or the fader far down, PAN at one end, GAIN far up with a loud source?",
  power = "any", minutes = 2,
  answers = {
    { "right", "nothing that explains it", to = "prods", clears = { "settings" } },
    { "wrong", "one of them would do it", to = "prods" },
  },
}

step "prods" {
  title = "The prods, against each other", zero = "prods", limits = "at most 0.5 ohm", minutes = 1,
  ok = "rails", otherwise = "bad-lead",
}

-- Both rails, each with its ripple.
local function rail_pair(plus, minus)
  local function volts(name, at, limits)
    return { name, "volts", at = at, against = "the strip's GND pin", hookup = "prods", limits = limits, plausible = "-30 V .. 30 V" }
  end
  local function ripple(name, at)
    return { name, "ac volts", at = at, against = "the strip's GND pin", hookup = "prods", limits = "at most 10 mV",
             plausible = "0 V .. 10 V" }
  end
  return { volts("p17", plus, "17 V +/- 6 %"), volts("n17", minus, "-17 V +/- 6 %"), ripple("p-ripple", plus), ripple("n-ripple", minus) }
end
local four = { "p17", "n17", "p-ripple", "n-ripple" }

step "rails" {
  title = "+17 and -17 V on the strip", see = "board",
  collect = rail_pair("TP6", "TP7"),
  power = "on", open = below, minutes = 8, helper = "holds the desk while it is stood on its rear edge: it weighs 22 kg and tips forward",
  note = "R70 and R71 take 0.1 V off. Mains stays behind its own guard; nothing above 52 V is within reach.",
  decide = function(v, outcome)
    local first = first_bad(outcome, four)
    if first == "?" then return "unclear" end
    return first and "bars" or "p48-on"
  end,
  to = { { to = "p48-on", clears = { "supply", "r70", "c70" } }, "bars", "unclear" },
}

step "bars" {
  title = "+17 and -17 V on the bus bars", see = "frame",
  collect = rail_pair("B1", "B2"),
  power = "on", open = below, minutes = 3,
  note = "What all strips share. Wrong here, it is wrong for the neighbour too.",
  decide = function(v, outcome)
    local first = first_bad(outcome, four)
    if first == "?" then return "unclear" end
    return first and "found-supply" or "strip-dead"
  end,
  to = { { to = "found-supply", clears = { "r70", "c70" }, implicates = { "supply" } },
         { to = "strip-dead", clears = { "supply" } }, "unclear" },
}

-- A fusible resistor dies of something.
step "strip-dead" {
  title = "The strip's feed, dead", see = "board",
  collect = {
    { "r70", "ohms", at = "R70", against = "its other end", hookup = "prods", limits = "10 ohm +/- 15 %", plausible = "0 ohm .. 100 Mohm" },
    { "r71", "ohms", at = "R71", against = "its other end", hookup = "prods", limits = "10 ohm +/- 15 %", plausible = "0 ohm .. 100 Mohm" },
    { "p-load", "ohms", at = "TP6", against = "the strip's GND pin", hookup = "prods", settle = "3 s", limits = "at least 300 ohm",
      plausible = "0 ohm .. 100 Mohm" },
    { "n-load", "ohms", at = "TP7", against = "the strip's GND pin", hookup = "prods", settle = "3 s", limits = "at least 300 ohm",
      plausible = "0 ohm .. 100 Mohm" },
  },
  open = below, minutes = 5,
  decide = function(v, outcome)
    if outcome["p-load"] == "low" or outcome["n-load"] == "low" then return "found-c70" end
    local first = first_bad(outcome, { "r70", "r71", "p-load", "n-load" })
    return (first == "r70" or first == "r71") and "found-r70" or "found-feed"
  end,
  to = { { to = "found-c70", implicates = { "c70" } }, { to = "found-r70", clears = { "c70" }, implicates = { "r70" } }, "found-feed" },
}

---------------------------------------------------------------- 48 V, before a source is near

local function pin(name, at, limits)
  return { name, "volts", at = at, against = "pin 1", hookup = "prods", settle = "10 s", limits = limits, plausible = "-5 V .. 60 V" }
end

step "p48-on" {
  title = "48 V at J1, P48 on, nothing joined", see = "frame",
  collect = {
    pin("pin2", "J1.2", "44 V .. 52 V"),
    pin("pin3", "J1.3", "44 V .. 52 V"),
    { "tp1", "volts", at = "TP1", against = "the strip's GND pin", hookup = "prods", settle = "10 s", limits = "-0.2 V .. 0.2 V",
      plausible = "-20 V .. 20 V" },
  },
  set = { p48 = "on", gain = "40" }, power = "on", open = below, minutes = 3,
  note = "48 V +/- 4 V behind 6.81 kohm in each leg (IEC 61938). If TP1 leaves its zero now, the 48 V come through C1 or C2.",
  decide = function(v, outcome)
    local two, three = outcome.pin2, outcome.pin3
    if bad(two) and bad(three) then return "p48-beside" end
    if bad(two) and three == "ok" or bad(three) and two == "ok" then return "found-r1" end
    if two ~= "ok" or three ~= "ok" then return "unclear" end
    return bad(outcome.tp1) and "zeroes" or outcome.tp1 == "ok" and "p48-gone" or "unclear"
  end,
  to = { { to = "p48-beside", clears = { "r1" } }, { to = "found-r1", clears = { "u48", "s1" }, implicates = { "r1" } }, "zeroes",
         { to = "p48-gone", clears = { "u48", "r1" } }, "unclear" },
}

step "p48-beside" {
  title = "48 V at the neighbour", see = "frame",
  read = { "volts", at = "J11.2", against = "pin 1", hookup = "prods", settle = "10 s", plausible = "-5 V .. 60 V" },
  limits = "44 V .. 52 V",
  set = { ["p48-beside"] = "on" }, power = "on", open = below, minutes = 2,
  ok = { to = "found-s1", clears = { "u48" }, implicates = { "s1" } },
  low = { to = "found-u48", implicates = { "u48" } }, high = { to = "found-u48", implicates = { "u48" } },
  otherwise = "unclear",
}

-- A source dies of 48 V, so the lead waits until it is shown that there are none.
step "p48-gone" {
  title = "No DC at J1 and J11, P48 off", see = "frame",
  collect = {
    pin("pin2", "J1.2", "-0.5 V .. 0.5 V"), pin("pin3", "J1.3", "-0.5 V .. 0.5 V"), pin("beside", "J11.2", "-0.5 V .. 0.5 V"),
  },
  set = { p48 = "off", ["p48-beside"] = "off" }, power = "on", open = below, minutes = 2,
  note = "C48 and the input capacitors take ten seconds to empty.",
  decide = function(v, outcome)
    if bad(outcome.pin2) or bad(outcome.pin3) then return "found-s1-stuck" end
    if outcome.pin2 ~= "ok" or outcome.pin3 ~= "ok" then return "unclear" end
    return bad(outcome.beside) and "beside-live" or outcome.beside == "ok" and "level" or "unclear"
  end,
  to = { { to = "level", clears = { "s1" } }, { to = "found-s1-stuck", implicates = { "s1" } },
         { to = "beside-live", clears = { "s1" } }, "unclear" },
}

---------------------------------------------------------------- is the level right?

step "level" {
  title = "A tone through the channel", see = "blocks",
  inject = tone(), set = straight,
  collect = out { settle = "1 s", expect = banded },
  power = "on", open = below, minutes = 4,
  note = "-40 dBu in, 40 dB of A1, 0.1 dB of mute, 3 dB of PAN, 6 dB behind the buses: +2.9 dBu, 1.08 V, on both sides.",
  decide = function(v, outcome)
    local left, right = outcome.left, outcome.right
    if left == "ok" and right == "ok" then return "dirt" end
    if bad(left) and bad(right) then return "tp3" end
    if bad(left) and right == "ok" or bad(right) and left == "ok" then return "beside-out" end
    return "unclear"
  end,
  to = { { to = "dirt", clears = { "j1", "u6", "s4", "r60", "rv91" } }, { to = "tp3", clears = { "r60" } }, "beside-out", "unclear" },
}

step "tp3" {
  title = "Half way: behind the insert", see = "board",
  inject = tone(), set = straight,
  read = on_the_strip "TP3", expect = banded,
  power = "on", open = below, minutes = 3,
  ok = { to = "tp5", clears = { "j1", "s2", "s3", "a2", "s4", "c30", "j3" } },
  low = { to = "tp1", clears = { "rv5", "q5", "u6", "rv6", "a7", "rv91" } },
  high = { to = "tp1", clears = { "rv5", "q5", "u6", "rv6", "a7", "rv91" } },
  otherwise = "unclear",
}

-- before TP3

-- Channel against channel, from one source by the Y lead: what source and meter are wrong by is in both readings, and falls out.
step "tp1" {
  title = "Microphone amplifier against its neighbour's", see = "board",
  inject = { "-40 dBu", at = "J1", freq = "1 kHz", hookup = "Y lead" },
  set = but { beside = "alike", ["p48-beside"] = "off" },
  read = {
    level("this", "TP1", "hook lead", { against = "the strip's GND pin" }),
    level("beside", "TP21", "hook lead", { against = "its strip's GND pin" }),
  },
  difference = { "this", "beside" }, limits = "0 dB +/- 1.8 dB",
  power = "on", open = below, minutes = 5,
  ok = { to = "switched", clears = { "j1", "s2", "s5", "a1" } },
  low = "pad", high = { to = "found-s5-high", implicates = { "s5" } }, otherwise = "unclear",
}

-- A dead amplifier is as dead with PAD in: below -60 dBu there is no tone to hold back.
step "pad" {
  title = "Does PAD do anything?", see = "board",
  inject = tone(),
  collect = {
    level("out", "TP1", "hook lead", { against = "the strip's GND pin", set = { pad = "out" }, limits = "at least -60 dBu" }),
    level("in", "TP1", "hook lead", { against = "the strip's GND pin", set = { pad = "in" } }),
  },
  set = straight, power = "on", open = below, minutes = 2,
  note = "PAD is 20 dB.",
  decide = function(v, outcome)
    if outcome.out == "low" then return "input-dead" end
    if outcome.out ~= "ok" or not v.out or not v["in"] then return "unclear" end
    return v.out - v["in"] > 15 and "input-dead" or "found-s2"
  end,
  to = { "input-dead", { to = "found-s2", implicates = { "s2" } }, "unclear" },
}

step "input-dead" {
  title = "From J1 to A1, dead", see = "board",
  set = { pad = "out", gain = "40" },
  collect = {
    { "pin2", "continuity", at = "C1", against = "J1 pin 2", hookup = "prods", limits = "at most 1 ohm",
      asks = "Read continuity from the end of C1 towards J1 to pin 2 of J1." },
    { "pin3", "continuity", at = "C2", against = "J1 pin 3", hookup = "prods", limits = "at most 1 ohm",
      asks = "Read continuity from the end of C2 towards J1 to pin 3 of J1." },
    { "c1", "capacitance", at = "C1", against = "its other end", hookup = "prods", limits = "47 uF +/- 30 %", plausible = "0 F .. 1 mF" },
    { "c2", "capacitance", at = "C2", against = "its other end", hookup = "prods", limits = "47 uF +/- 30 %", plausible = "0 F .. 1 mF" },
    { "gain", "ohms", at = "S5", against = "its other contact", hookup = "prods", limits = "100 ohm +/- 10 %",
      plausible = "0 ohm .. 100 Mohm" },
  },
  open = below, minutes = 8,
  note = "What stands beside C1 and C2 is kilohms, and 34 ohm at 100 Hz do not see it. S5 at 40 puts 100 ohm between the two emitters.",
  decide = function(v, outcome)
    local first = first_bad(outcome, { "pin2", "pin3", "c1", "c2", "gain" })
    if first == "pin2" or first == "pin3" then return "found-j1" end
    if first == "c1" or first == "c2" then return "found-c1" end
    if first == "gain" then return "found-s5" end
    return first == nil and "found-a1" or "unclear"
  end,
  to = { { to = "found-j1", implicates = { "j1" } }, { to = "found-c1", clears = { "j1" }, implicates = { "c1" } },
         { to = "found-s5", clears = { "j1", "c1" }, implicates = { "s5" } },
         { to = "found-a1", clears = { "j1", "c1", "s5" }, implicates = { "a1" } }, "unclear" },
}

-- A contact that is dirty in one position is clean in the other.
step "switched" {
  title = "TP2, each switch by turn", see = "board",
  inject = tone(), set = straight,
  grid = {
    columns = { "1 kHz" },
    rows = {
      { "straight", set = { hpf = "out", eq = "out" } },
      { "cut", set = { hpf = "in", eq = "out" } },
      { "eq", set = { hpf = "out", eq = "in" } },
    },
    read = on_the_strip "TP2",
    limits = "0 dBu +/- 1.5 dB",
  },
  power = "on", open = below, minutes = 4,
  note = "At 1 kHz LOW CUT takes nothing, and EQ with its knobs in the middle neither.",
  decide = function(v, outcome)
    local straight_on, cut, eq = outcome["straight.1"], outcome["cut.1"], outcome["eq.1"]
    if straight_on == "ok" then return "insert-ohms" end
    if not bad(straight_on) then return "unclear" end
    if cut == "ok" then return "found-s3" end
    if eq == "ok" then return "found-s4" end
    return bad(cut) and bad(eq) and "found-a2" or "unclear"
  end,
  to = { { to = "insert-ohms", clears = { "s3", "a2", "s4" } }, { to = "found-s3", clears = { "a2", "s4" }, implicates = { "s3" } },
         { to = "found-s4", clears = { "a2", "s3" }, implicates = { "s4" } }, { to = "found-a2", implicates = { "a2" } }, "unclear" },
}

step "insert-ohms" {
  title = "Normal contact of the insert, dead", see = "board",
  read = { "ohms", at = "J3", against = "its ring contact", hookup = "prods", plausible = "0 ohm .. 100 Mohm",
           asks = "With no plug in J3, read ohms from its tip contact to its ring contact." },
  limits = "at most 1 ohm", open = below, minutes = 3,
  note = "It closes when the plug goes out. After years without a plug it does not.",
  high = { to = "found-j3", clears = { "c30" }, implicates = { "j3" } },
  ok = { to = "found-c30", clears = { "j3" }, implicates = { "c30" } }, otherwise = "unclear",
}

-- behind TP3

step "tp5" {
  title = "Behind the mute", see = "board",
  inject = tone(), set = straight,
  read = on_the_strip "TP5", expect = banded,
  power = "on", open = below, minutes = 2,
  ok = { to = "beside-out", clears = { "rv5", "a4", "q5", "u6" } },
  low = "tp4", high = "tp4", otherwise = "unclear",
}

step "tp4" {
  title = "Behind the fader amplifier", see = "board",
  inject = tone(), set = straight,
  read = on_the_strip "TP4", expect = banded,
  power = "on", open = below, minutes = 2,
  ok = { to = "mute-volts", clears = { "rv5", "a4" } },
  low = { to = "fader-ohms", clears = { "q5", "u6" } }, high = { to = "fader-ohms", clears = { "q5", "u6" } }, otherwise = "unclear",
}

step "mute-volts" {
  title = "Mute line, MUTE off", see = "board",
  read = { "volts", at = "TP8", against = "the strip's GND pin", hookup = "prods", plausible = "-20 V .. 20 V" },
  limits = "-0.5 V .. 0.5 V",
  set = { mute = "off" }, power = "on", open = below, minutes = 1,
  note = "0 V lets through, about -14 V mutes.",
  ok = { to = "found-q5", clears = { "u6" }, implicates = { "q5" } },
  low = { to = "found-u6", clears = { "q5" }, implicates = { "u6" } }, high = { to = "found-u6", clears = { "q5" }, implicates = { "u6" } },
  otherwise = "unclear",
}

step "fader-ohms" {
  title = "Fader at its 0 mark, dead", see = "board",
  set = { fader = "0 mark" },
  read = { "ohms", at = "RV5", against = "its wiper", hookup = "prods", plausible = "0 ohm .. 100 Mohm",
           asks = "Read ohms from the upper end of RV5 to its wiper." },
  limits = "6.8 kohm +/- 15 %", open = below, minutes = 4,
  note = "10 kohm in all; 10 dB down leaves 3.2 kohm below the wiper.",
  high = { to = "found-rv5", clears = { "a4" }, implicates = { "rv5" } },
  low = { to = "found-rv5", clears = { "a4" }, implicates = { "rv5" } },
  ok = { to = "found-a4", clears = { "rv5" }, implicates = { "a4" } }, otherwise = "unclear",
}

-- buses

step "beside-out" {
  title = "The neighbour through the same buses", see = "frame",
  inject = { "-40 dBu", at = "J11", freq = "1 kHz", hookup = "tone lead" },
  set = but { mute = "on", beside = "alike", ["p48-beside"] = "off" },
  collect = out { settle = "1 s", expect = banded_beside },
  power = "on", open = below, minutes = 5,
  note = "This channel is muted: what comes out is the neighbour's.",
  decide = function(v, outcome)
    if bad(outcome.left) or bad(outcome.right) then return "buses" end
    return outcome.left == "ok" and outcome.right == "ok" and "legs" or "unclear"
  end,
  to = { { to = "buses", clears = { "rv6", "r60" } }, { to = "legs", clears = { "a5", "rv91", "a7" } }, "unclear" },
}

step "legs" {
  title = "The two legs of PAN", see = "board",
  inject = tone(), set = straight,
  collect = { level("left", "TP10", "hook lead", { expect = banded }), level("right", "TP11", "hook lead", { expect = banded }) },
  power = "on", open = below, minutes = 3,
  decide = function(v, outcome)
    local first = first_bad(outcome, both)
    if first == "?" then return "unclear" end
    return first and "found-rv6" or "found-r60"
  end,
  to = { { to = "found-rv6", clears = { "r60" }, implicates = { "rv6" } }, { to = "found-r60", clears = { "rv6" }, implicates = { "r60" } },
         "unclear" },
}

step "buses" {
  title = "Along the buses, the neighbour's tone", see = "frame",
  inject = { "-40 dBu", at = "J11", freq = "1 kHz", hookup = "tone lead" },
  set = but { mute = "on", beside = "alike", ["p48-beside"] = "off" },
  collect = {
    level("left", "TP12", "hook lead", { expect = banded_beside }),
    level("right", "TP13", "hook lead", { expect = banded_beside }),
    level("left-main", "TP14", "hook lead", { expect = banded_beside }),
    level("right-main", "TP15", "hook lead", { expect = banded_beside }),
  },
  power = "on", open = below, minutes = 4,
  decide = function(v, outcome)
    local first = first_bad(outcome, { "left", "right", "left-main", "right-main" })
    if first == "left" or first == "right" then return "found-a5" end
    if first == "?" then return "unclear" end
    return first and "found-rv91" or "found-a7"
  end,
  to = { { to = "found-a5", clears = { "rv91", "a7" }, implicates = { "a5" } },
         { to = "found-rv91", clears = { "a5", "a7" }, implicates = { "rv91" } },
         { to = "found-a7", clears = { "a5", "rv91" }, implicates = { "a7" } }, "unclear" },
}

---------------------------------------------------------------- is it clean?

local function percent(name, at, hookup)
  return { name, "percent", at = at, hookup = hookup, freq = "1 kHz", limits = "at most 0.1 %", plausible = "0 % .. 60 %" }
end

step "dirt" {
  title = "Distortion at the outputs", see = "blocks",
  inject = tone(), set = straight,
  collect = { percent("left", "J2", "output lead"), percent("right", "J22", "output lead") },
  power = "on", open = below, minutes = 2,
  note = "0.02 % when all is well. What is dirty on both sides is dirty before PAN.",
  decide = function(v, outcome)
    local left, right = outcome.left, outcome.right
    if left == "ok" and right == "ok" then return "bass" end
    if bad(left) and bad(right) then return "zeroes" end
    if bad(left) and right == "ok" or bad(right) and left == "ok" then return "dirt-behind" end
    return "unclear"
  end,
  to = { "bass", { to = "zeroes", clears = { "a7" } }, "dirt-behind", "unclear" },
}

step "dirt-behind" {
  title = "Distortion behind the bus amplifiers", see = "frame",
  inject = tone(), set = straight,
  collect = { percent("left", "TP12", "hook lead"), percent("right", "TP13", "hook lead") },
  power = "on", open = below, minutes = 2,
  decide = function(v, outcome)
    local first = first_bad(outcome, both)
    if first == "?" then return "unclear" end
    return first and "found-a5-dirt" or "found-a7-dirt"
  end,
  to = { { to = "found-a5-dirt", implicates = { "a5" } }, { to = "found-a7-dirt", clears = { "a5" }, implicates = { "a7" } }, "unclear" },
}

-- An amplifier that distorts mostly sits off its zero. It costs three readings and no thought.
local function zero_at(name, at)
  return { name, "volts", at = at, against = "the strip's GND pin", hookup = "prods", settle = "10 s", limits = "-0.1 V .. 0.1 V",
           plausible = "-20 V .. 20 V" }
end

step "zeroes" {
  title = "DC along the strip, P48 off", see = "board",
  collect = { zero_at("tp1", "TP1"), zero_at("tp2", "TP2"), zero_at("tp4", "TP4") },
  uses = { fed = "p48-on/tp1" },
  set = { p48 = "off", gain = "40" }, power = "on", open = below, minutes = 3,
  decide = function(v, outcome)
    local first = first_bad(outcome, { "tp1", "tp2", "tp4" })
    if first == "?" then return "unclear" end
    if first == nil then return bad(outcome.fed) and "found-c1-leaks" or "dirt-along" end
    return first == "tp1" and "found-a1-zero" or first == "tp2" and "found-a2-zero" or "found-a4-zero"
  end,
  to = { { to = "found-c1-leaks", clears = { "a1" }, implicates = { "c1" } }, "dirt-along", { to = "found-a1-zero", implicates = { "a1" } },
         { to = "found-a2-zero", implicates = { "a2" } }, { to = "found-a4-zero", implicates = { "a4" } }, "unclear" },
}

step "dirt-along" {
  title = "Distortion along the strip", see = "board",
  inject = tone(), set = straight,
  collect = {
    percent("tp1", "TP1", "hook lead"), percent("tp3", "TP3", "hook lead"),
    percent("tp4", "TP4", "hook lead"), percent("tp5", "TP5", "hook lead"),
  },
  power = "on", open = below, minutes = 4,
  decide = function(v, outcome)
    local first = first_bad(outcome, { "tp1", "tp3", "tp4", "tp5" })
    if first == "tp1" then return "found-a1-dirt" end
    if first == "tp3" then return "found-a2-dirt" end
    if first == "tp4" then return "found-a4-dirt" end
    return first == "tp5" and "found-q5-dirt" or "unclear"
  end,
  to = { { to = "found-a1-dirt", implicates = { "a1" } }, { to = "found-a2-dirt", clears = { "a1" }, implicates = { "a2" } },
         { to = "found-a4-dirt", clears = { "a1", "a2" }, implicates = { "a4" } },
         { to = "found-q5-dirt", clears = { "a1", "a2", "a4" }, implicates = { "q5" } }, "unclear" },
}

---------------------------------------------------------------- is the bass there?

step "bass" {
  title = "50 Hz through the channel", see = "blocks",
  inject = tone "50 Hz", set = straight,
  collect = out { settle = "1 s", expect = banded },
  power = "on", open = below, minutes = 2,
  note = "As much as at 1 kHz.",
  low = "bass-along", ok = { to = "options", clears = { "c1", "s3", "c30" } }, otherwise = "unclear",
}

step "bass-along" {
  title = "50 Hz along the strip", see = "board",
  inject = tone "50 Hz", set = straight,
  collect = {
    level("tp1", "TP1", "hook lead", { expect = banded }), level("tp2", "TP2", "hook lead", { expect = banded }),
    level("tp3", "TP3", "hook lead", { expect = banded }),
  },
  power = "on", open = below, minutes = 3,
  decide = function(v, outcome)
    local first = first_bad(outcome, { "tp1", "tp2", "tp3" })
    if first == "tp1" then return "found-c1-dried" end
    if first == "tp2" then return "found-s3-stuck" end
    return first == "tp3" and "found-c30-dried" or "unclear"
  end,
  to = { { to = "found-c1-dried", implicates = { "c1" } }, { to = "found-s3-stuck", clears = { "c1" }, implicates = { "s3" } },
         { to = "found-c30-dried", clears = { "c1", "s3" }, implicates = { "c30" } }, "unclear" },
}

step "options" {
  title = "PAD and EQ, by turn", see = "blocks",
  inject = tone(), set = straight,
  grid = {
    columns = { "1 kHz" },
    rows = {
      { "pad", set = { pad = "in", eq = "out" }, through = { "s2" }, limits = "-17.1 dBu +/- 2.2 dB" },
      { "eq", set = { pad = "out", eq = "in" }, through = { "a3" }, limits = "2.9 dBu +/- 2.2 dB" },
    },
    read = { "ac volts", at = "J2", hookup = "output lead", unit = "dBu", plausible = span },
  },
  power = "on", open = below, minutes = 3,
  decide = function(v, outcome)
    local first = first_bad(outcome, { "pad.1", "eq.1" })
    if first == "pad.1" then return "found-s2-out" end
    if first == "eq.1" then return "found-a3" end
    return first == nil and "tone-off" or "unclear"
  end,
  to = { { to = "found-s2-out", implicates = { "s2" } }, { to = "found-a3", implicates = { "a3" } }, "tone-off", "unclear" },
}

---------------------------------------------------------------- is it quiet?

step "tone-off" {
  title = "Tone off",
  act = "Switch AG1's output off and leave its lead in J1: its 150 ohm stand in for a quiet microphone. Lift the ground of its " ..
        "output, if it has a switch for that, never the earth of its mains lead, and lay that lead away from the desk.",
  outside = true, power = "any", minutes = 1,
  next = "noise",
}

step "noise" {
  title = "Noise at the outputs",
  set = straight,
  collect = out { limits = "nothing above -75 dBu", asks = "With AG1's output off, read the noise with the output lead, 22 Hz to 22 kHz." },
  power = "on", open = below, minutes = 3,
  note = "-131 dBu of 150 ohm, 3 dB of A1, 42.9 dB of gain: -85 dBu; the buses bring it to -82 dBu.",
  decide = function(v, outcome)
    local left, right = outcome.left, outcome.right
    if left == "ok" and right == "ok" then return "knobs" end
    if bad(left) and bad(right) then return "noise-beside" end
    if bad(left) and right == "ok" or bad(right) and left == "ok" then return "noise-behind" end
    return "unclear"
  end,
  to = { "knobs", "noise-beside", "noise-behind", "unclear" },
}

step "noise-behind" {
  title = "Noise behind the bus amplifiers", see = "frame",
  set = straight,
  collect = {
    level("left", "TP12", "hook lead", { limits = "nothing above -80 dBu" }),
    level("right", "TP13", "hook lead", { limits = "nothing above -80 dBu" }),
  },
  power = "on", open = below, minutes = 3,
  decide = function(v, outcome)
    local first = first_bad(outcome, both)
    if first == "?" then return "unclear" end
    return first and "found-a5-noise" or "found-a7-noise"
  end,
  to = { { to = "found-a5-noise", implicates = { "a5" } }, { to = "found-a7-noise", clears = { "a5" }, implicates = { "a7" } }, "unclear" },
}

-- An open input behind PAD is a quiet one: the pad is the 150 ohm.
step "noise-beside" {
  title = "The neighbour, for its noise",
  compare = "Mute this channel. On the neighbour: nothing in J11, P48 off, PAD in, its fader at the 0 mark. Does the meter on J2 show " ..
            "the same noise, within 3 dB, and does it sound the same? Put its PAD back where it was.",
  set = but { mute = "on", beside = "alike", ["p48-beside"] = "off" }, power = "on", open = below, minutes = 3,
  same = "strap-ohms", different = { to = "noise-down", clears = { "star" } }, unclear = "unclear",
}

step "strap-ohms" {
  title = "Ground strap of the strips' rail, dead", see = "frame",
  read = { "continuity", at = "E1", against = "the star screw", hookup = "prods" },
  limits = "at most 0.3 ohm", open = below, minutes = 4,
  high = { to = "found-star", implicates = { "star" } },
  ok = { to = "found-all-noisy", clears = { "star" } }, otherwise = "unclear",
}

step "noise-down" {
  title = "Noise, fader down",
  set = but { fader = "down" },
  read = { "ac volts", at = "J2", hookup = "output lead", unit = "dBu", plausible = span },
  limits = "nothing above -75 dBu",
  power = "on", open = below, minutes = 1,
  high = { to = "found-a4-noise", clears = { "a1", "a2", "e9" }, implicates = { "a4" } },
  ok = { to = "noise-tp1", clears = { "a4" } }, otherwise = "unclear",
}

step "noise-tp1" {
  title = "Noise of the microphone amplifier", see = "board",
  set = straight,
  read = on_the_strip "TP1", limits = "nothing above -80 dBu",
  power = "on", open = below, minutes = 2,
  note = "-131 dBu of 150 ohm, 3 dB of A1, 40 dB of gain: -88 dBu.",
  high = { to = "noise-kind", clears = { "a2" } },
  ok = { to = "found-a2-noise", clears = { "a1", "e9" }, implicates = { "a2" } }, otherwise = "unclear",
}

step "noise-kind" {
  title = "What does it sound like?",
  look = "Headphones low: what do you hear?",
  set = straight, power = "on", open = below, minutes = 1,
  answers = {
    { "hum", "a hum or buzz", to = "screw-ohms" },
    { "hiss", "a hiss, a rumble or a crackle that nobody makes", to = "found-a1-noise", clears = { "e9" }, implicates = { "a1" } },
    { "smoke", "a burnt smell, smoke or crackling from below", stop = true },
  },
}

step "screw-ohms" {
  title = "Ground screw of the strip, dead", see = "board",
  read = { "continuity", at = "E9", against = "J1 pin 1", hookup = "prods" },
  limits = "at most 0.3 ohm", open = below, minutes = 3,
  high = { to = "found-e9", clears = { "a1" }, implicates = { "e9" } },
  ok = { to = "found-a1-noise", clears = { "e9" }, implicates = { "a1" } }, otherwise = "unclear",
}

step "knobs" {
  title = "Each knob, by ear",
  look = "Headphones low: turn GAIN a few steps and back, move the fader and PAN from end to end and back. Which one crackles?",
  power = "on", open = below, minutes = 2,
  answers = {
    { "quiet", "none of them", to = "what-helped" },
    { "gain", "GAIN", to = "found-s5-scratches", clears = { "rv5", "rv6" }, implicates = { "s5" } },
    { "fader", "the fader", to = "found-rv5-scratches", clears = { "s5", "rv6" }, implicates = { "rv5" } },
    { "pan", "PAN", to = "found-rv6-scratches", clears = { "s5", "rv5" }, implicates = { "rv6" } },
  },
}

-- Everything is right as it stands now: what has been changed since the fault was shown?
step "what-helped" {
  title = "What put it right?",
  uses = { settings = "settings" },
  decide = function(v) return v.settings == "wrong" and "found-settings" or "not-shown" end,
  to = { { to = "found-settings", implicates = { "settings" } }, "not-shown" },
}

---------------------------------------------------------------- ends

local function found(id, t)
  step("found-" .. id)(t)
end

found("settings", { finding = { "settings" }, title = "It was set so",
  proof = "One of the knobs stood where it makes this fault, and with all of them straight the channel is right.",
  advice = "Tell the owner, and show him on his own settings; nothing was replaced." })
found("supply", { finding = { "supply" }, title = "The supply",
  proof = "+17 or -17 V is wrong, or has ripple, on the bus bars that all strips share.",
  not_tested = "Which part of it: it stands behind the mains guard.", advice = "Read it at its own terminals, dead work first." })
found("c70", { finding = { "c70" }, title = "C70 or C71 pulls the strip's rail down",
  proof = "The bus bars are right, and a rail of the strip reads under 300 ohm to ground.",
  not_tested = "An amplifier that shorts its rail reads the same: lift the capacitor, read again.",
  advice = "Exchange the fusible resistor with it, for one of the same kind." })
found("r70", { finding = { "r70" }, title = "R70 or R71, fusible resistor",
  proof = "It does not read 10 ohm, and nothing behind it reads shorted.",
  advice = "The same kind again, and nothing stronger: it is the strip's fuse." })
found("feed", { finding = { "r70", "c70" }, separated = false, title = "The strip's feed, not separated",
  proof = "The bus bars are right, the strip's rail is not, and the resistors read whole.", not_tested = "What draws only under power." })
found("u48", { finding = { "u48" }, title = "U48, supply of 48 V",
  proof = "There are no 48 V at this channel, and none at the neighbour." })
found("s1", { finding = { "s1" }, title = "S1, P48 switch", proof = "The neighbour has its 48 V, and neither pin of J1 has." })
found("s1-stuck", { finding = { "s1" }, title = "S1, P48 switch, stuck on",
  proof = "With P48 off there is DC at J1.", advice = "Nothing goes into J1 until S1 is exchanged." })
found("r1", { finding = { "r1" }, title = "R1 or R2, 6.81 kohm of 48 V", proof = "One pin of J1 has its 48 V and the other has not.",
  advice = "Exchange both, matched within 0.4 %: they carry the rejection of hum." })
found("j1", { finding = { "j1" }, title = "J1 or its leads",
  proof = "TP1 is low against the neighbour, and a pin of J1 does not read through." })
found("s2", { finding = { "s2" }, title = "S2, PAD, stuck in", proof = "TP1 is low against the neighbour, and PAD changes nothing." })
found("s2-out", { finding = { "s2" }, title = "S2, PAD, does not go in", proof = "PAD in does not bring the output 20 dB down." })
found("c1", { finding = { "c1" }, title = "C1 or C2, input capacitor, open", proof = "It does not read 47 uF, and J1 reads through.",
  advice = "Exchange both." })
found("c1-leaks", { finding = { "c1" }, title = "C1 or C2, input capacitor, leaks",
  proof = "TP1 leaves its zero with P48 on and comes back with it off.", advice = "Exchange both, of 63 V." })
found("c1-dried", { finding = { "c1" }, title = "C1 or C2, input capacitor, dried",
  proof = "50 Hz are missing at TP1, and 1 kHz is there.", not_tested = "Which of the two: exchange both." })
found("s5", { finding = { "s5" }, title = "S5, GAIN switch", proof = "TP1 is low, and S5 does not read 100 ohm at 40." })
found("s5-high", { finding = { "s5" }, title = "S5, GAIN switch, too much",
  proof = "TP1 is high against the neighbour with both at 40.", not_tested = "The resistors on S5, one by one." })
found("s5-scratches", { finding = { "s5" }, title = "S5, GAIN switch, scratches", proof = "It crackles when GAIN is turned." })
found("a1", { finding = { "a1" }, title = "A1, microphone amplifier", proof = "TP1 is low, and J1, C1, C2 and S5 read whole." })
found("a1-zero", { finding = { "a1" }, title = "A1, microphone amplifier, off its zero", proof = "There is DC at TP1 with P48 off." })
found("a1-dirt", { finding = { "a1" }, title = "A1, microphone amplifier, distorts", proof = "The tone is distorted at TP1 already." })
found("a1-noise", { finding = { "a1" }, title = "A1, microphone amplifier, noisy",
  proof = "The noise is at TP1 already, and it is no hum, or the strip's ground reads whole." })
found("s3", { finding = { "s3" }, title = "S3, LOW CUT, a dirty contact",
  proof = "TP1 is right, TP2 is low with LOW CUT out and right with it in." })
found("s3-stuck", { finding = { "s3" }, title = "S3, LOW CUT, stuck in", proof = "50 Hz are there at TP1 and missing at TP2." })
found("s4", { finding = { "s4" }, title = "S4, EQ switch, a dirty contact",
  proof = "TP1 is right, TP2 is low with EQ out and right with it in." })
found("a2", { finding = { "a2" }, title = "A2, behind LOW CUT", proof = "TP1 is right, and TP2 is low wherever the switches stand." })
found("a2-zero", { finding = { "a2" }, title = "A2, off its zero", proof = "TP1 is at zero, and TP2 is not." })
found("a2-dirt", { finding = { "a2" }, title = "A2, distorts", proof = "The tone is clean at TP1, and distorted at TP3.",
  not_tested = "The normal contact of J3: an oxidised one distorts as well. Put a plug in and out ten times, and read again." })
found("a2-noise", { finding = { "a2" }, title = "A2, noisy", proof = "TP1 is quiet, and the fader takes the noise away." })
found("a3", { finding = { "a3" }, title = "A3, equaliser", proof = "The output is right with EQ out and not with EQ in." })
found("c30", { finding = { "c30" }, title = "C30, into the insert",
  proof = "TP2 is right, TP3 is low, and the normal contact of J3 reads through." })
found("c30-dried", { finding = { "c30" }, title = "C30, into the insert, dried", proof = "50 Hz are there at TP2 and missing at TP3." })
found("j3", { finding = { "j3" }, title = "J3, normal contact of the insert",
  proof = "TP2 is right, TP3 is low, and the contact reads over 1 ohm.",
  advice = "Clean it and work a plug in and out; exchange J3 if it comes back." })
found("rv5", { finding = { "rv5" }, title = "RV5, fader",
  proof = "TP3 is right, TP4 is low, and RV5 does not read 6.8 kohm at its 0 mark." })
found("rv5-scratches", { finding = { "rv5" }, title = "RV5, fader, scratches", proof = "It crackles when the fader is moved." })
found("a4", { finding = { "a4" }, title = "A4, fader amplifier", proof = "TP3 and RV5 are right, and TP4 is low." })
found("a4-zero", { finding = { "a4" }, title = "A4, fader amplifier, off its zero", proof = "TP1 and TP2 are at zero, and TP4 is not." })
found("a4-dirt", { finding = { "a4" }, title = "A4, fader amplifier, distorts", proof = "The tone is clean at TP3, and distorted at TP4." })
found("a4-noise", { finding = { "a4" }, title = "A4, fader amplifier, noisy",
  proof = "The neighbour is quiet, and the fader does not take the noise away." })
found("q5", { finding = { "q5" }, title = "Q5, mute", proof = "TP4 is right, TP5 is low, and the mute line lets through." })
found("q5-dirt", { finding = { "q5" }, title = "Q5, mute, distorts", proof = "The tone is clean at TP4, and distorted at TP5." })
found("u6", { finding = { "u6" }, title = "U6 or S6, what drives Q5",
  proof = "TP4 is right, TP5 is low, and the mute line mutes with MUTE off." })
found("rv6", { finding = { "rv6" }, title = "RV6, PAN", proof = "TP5 and the neighbour are right, and a leg of PAN is low." })
found("rv6-scratches", { finding = { "rv6" }, title = "RV6, PAN, scratches", proof = "It crackles when PAN is turned." })
found("r60", { finding = { "r60" }, title = "R60 or R61, into the bus",
  proof = "Both legs of PAN are right, the neighbour comes out, and this channel does not." })
found("a5", { finding = { "a5" }, title = "A5, bus amplifier",
  proof = "The neighbour is low on the same side, and so is the bus amplifier's output." })
found("a5-dirt", { finding = { "a5" }, title = "A5, bus amplifier, distorts",
  proof = "One side is distorted, and so is its bus amplifier's output." })
found("a5-noise", { finding = { "a5" }, title = "A5, bus amplifier, noisy",
  proof = "One side is noisy, and so is its bus amplifier's output." })
found("rv91", { finding = { "rv91" }, title = "RV91, main fader",
  proof = "The bus amplifiers are right, and a wiper of the main fader is low." })
found("a7", { finding = { "a7" }, title = "A7, line amplifier", proof = "The main fader is right, and the output behind it is low." })
found("a7-dirt", { finding = { "a7" }, title = "A7, line amplifier, distorts",
  proof = "One side is distorted, and its bus amplifier is clean." })
found("a7-noise", { finding = { "a7" }, title = "A7, line amplifier, noisy", proof = "One side is noisy, and its bus amplifier is quiet." })
found("star", { finding = { "star" }, title = "The ground strap E1",
  proof = "The neighbour hums alike, and the strap reads over 0.3 ohm." })
found("all-noisy", { finding = { "a5", "a7" }, separated = false, title = "Both channels and both sides, not separated",
  proof = "The neighbour is noisy alike, and the ground strap reads whole.",
  not_tested = "What A5 and A7 share: their ground and the ribbon of the master board." })
found("e9", { finding = { "e9" }, title = "The ground screw E9",
  proof = "The channel hums, the neighbour does not, and pin 1 reads over 0.3 ohm to the strip's screw." })

step "bad-lead" {
  finding = "The prods are bad", suspects = {}, title = "The prods are bad",
  proof = "Held together they read more than 0.5 ohm.", advice = "Mend them, and begin again.",
}
step "beside-live" {
  finding = "The neighbour has DC at its input", suspects = {}, title = "The neighbour has DC at its input",
  proof = "There is DC at J11 with its P48 off, and none at J1.",
  advice = "Nothing goes into J11. Take the strip on the other side for the neighbour, and begin again.",
}
step "not-shown" {
  finding = "The fault does not show", suspects = {}, title = "The fault does not show",
  proof = "The fault never showed, or level, distortion, bass and noise are right and no knob stood wrong.",
  not_tested = "The owner's microphone, its lead, and what he had in the insert.",
  advice = "Try his microphone and lead on the neighbour; then heat, and the strip tapped along its length.",
}
step "unclear" {
  finding = "Not separated", suspects = {}, title = "Stopped: no clear reading",
  proof = "A reading this isolation stands on could not be taken, lay on its limit, or contradicts the one before.",
  not_tested = "Everything still open in the list of suspects.",
  advice = "Mend the hookup or take a finer meter, and start again.",
}
