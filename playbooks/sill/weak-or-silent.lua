-- Weak, deaf on one band, silent, or its squelch stuck: a Tarnbeck Sill. From outside first: hiss, SINAD on both bands, squelch and AGC at
-- the test socket. A fault on one band clears everything both bands share; one on both is halved at TP4, behind the 45 MHz amplifier.
require "family"

playbook {
  id = "sill/weak-or-silent", edition = 2,
  title = "Sill receiver: weak, deaf on one band, silent, or its squelch stuck",
  family = "Tarnbeck Sill",
  first = {
    "Take the antenna off J1 and cap it: a struck feed may still carry a charge, and no transmitter in the shop is keyed into it.",
    "Set the bench supply to 13.8 V, its current limit to 1 A.",
    "Wrist strap on: Q1 and Q2 die of a charged sleeve.",
  },
  symptom = {
    "no signal, a weak one on one band or on both, or a squelch that does not shut or does not open",
    under = "13.8 V, BAND, AGC, SQUELCH and VOLUME as the owner left them, -113 dBm with FM of 1 kHz at 3 kHz deviation into J1",
    power = "on", tries = 2, absent = "not-shown",
  },
  enter = {
    { "dead", "the POWER lamp is dark", to = "lamp" },
    { "silent", "the lamp is lit, and neither hiss nor a signal is heard", to = "settings", clears = { "feed-lead", "fuse", "d9" } },
    { "weak", "weak or deaf, on one band or on both", to = "settings", clears = { "feed-lead", "fuse", "d9" } },
    { "squelch", "it hisses with SQUELCH tight, or does not open for a weak signal", to = "squelch-shuts", clears = { "feed-lead", "fuse", "d9" } },
    { "strong", "weak signals are right, strong ones distort", to = "agc-strong", clears = { "feed-lead", "fuse", "d9" } },
  },
}

-- What each mode shows where the line-ups do not tell of it; `healthy` says the rest. SINAD is what a receiver is judged by, and no
-- line-up gives it, so each fault of the signal's way says it by band.
local function deaf(vhf, uhf, shows)
  local all = shows or {}
  all["sinad-vhf"], all["sinad-uhf"] = vhf, uhf
  return all
end
local function both(sinad, shows) return deaf(sinad, sinad, shows) end
local function mute(shows)
  local all = both("0 dB", shows)
  all["intake/entry"], all.hiss = "silent", "none"
  return all
end
local function dark(shows)
  local all = shows or {}
  all["intake/entry"], all.lamp = "dead", "dark"
  return all
end
local function squelch(shows)
  shows["intake/entry"] = "squelch"
  return shows
end
local none, poor = "1 dB +/- 1 dB", "6 dB +/- 2 dB"

suspect "feed-lead" { title = "the 13.8 V lead and P1", modes = { "open" }, odds = 2, shows = {
  open = dark { P1 = "0 V", TP12 = "0 V" } } }
suspect "fuse" { title = "F1, 13.8 V fuse", modes = { "open" }, odds = 2, shows = { open = dark { TP12 = "0 V", ["f1-ohms"] = "OL" } } }
suspect "d9" { title = "D9, reverse-polarity diode", modes = { "short", "breaks down" }, shows = {
  short = dark { TP12 = "0 V", ["f1-ohms"] = "OL", ["bus-ohms"] = "0.6 ohm" },
  ["breaks down"] = dark { TP12 = "0 V", ["f1-ohms"] = "OL", ["lamp-again"] = "dark" } } }
suspect "u9" { title = "U9, 9 V regulator", modes = { "dead", "low" }, shows = {
  dead = mute { ["mute-line"] = "0 V" }, low = both(poor, { ["agc-quiet"] = "3.1 V", ["agc-off"] = "3.1 V" }) } }
suspect "p9-load" { title = "a short on the 9 V line of the signal board", modes = { "short" }, shows = {
  short = mute { ["mute-line"] = "0 V", ["rails/p9"] = "0.4 V" } } }
suspect "u10" { title = "U10, 5 V regulator", modes = { "dead" }, shows = { dead = both(none) } }

suspect "w1" { title = "W1, cable from J1", modes = { "open", "poor joint" }, odds = 2, shows = {
  open = both(none, { ["w1-ohms"] = "OL" }), ["poor joint"] = both(poor) } }
suspect "d1" { title = "D1, input limiter", modes = { "short", "leaky" }, odds = 3, shows = {
  short = both(none, { ["d1-diode"] = "0.01 V" }), leaky = both(poor, { ["d1-diode"] = "0.08 V" }) } }
suspect "k1" { title = "K1, band relay", modes = { "stuck at VHF", "stuck at UHF" }, odds = 2, shows = {
  ["stuck at VHF"] = deaf(nil, none, { ["k1-uhf"] = "OL" }), ["stuck at UHF"] = deaf(none, nil, { ["k1-vhf"] = "OL" }) } }
-- The two front ends are alike but for their names.
for _, b in ipairs {
  { "vhf", "VHF", "fl1", "FL1", "q1", "Q1", "q5", "Q5" },
  { "uhf", "UHF", "fl2", "FL2", "q2", "Q2", "q6", "Q6" },
} do
  local function here(sinad, shows)
    if b[1] == "vhf" then return deaf(sinad, nil, shows) end
    return deaf(nil, sinad, shows)
  end
  suspect(b[3]) { title = b[4] .. ", " .. b[2] .. " preselector", modes = { "detuned", "open" }, shows = {
    detuned = here(poor), open = here(none, { ["peak-" .. b[1]] = b[1] == "vhf" and "-109 dBm" or "-110 dBm" }) } }
  suspect(b[5]) { title = b[6] .. ", " .. b[2] .. " input transistor", modes = { "dead", "low gain" }, odds = 3, shows = {
    dead = here(none), ["low gain"] = here(poor) } }
  suspect(b[7]) { title = b[8] .. ", feed of the " .. b[2] .. " front end", modes = { "open" }, shows = { open = here(none) } }
  suspect("vco-" .. b[1]) { title = b[2] .. " oscillator at U11", modes = { "dead" }, odds = 2, shows = { dead = here(none) } }
end
suspect "reference" { title = "G1, 12.8 MHz reference", modes = { "dead", "weak" }, shows = {
  dead = both(none, { ["lock-lamp"] = "dark" }), weak = both(none, { ["lock-lamp"] = "blinks" }) } }
suspect "synth" { title = "U11, synthesiser", modes = { "no lock" }, odds = 2, shows = { ["no lock"] = both(none, { ["lock-lamp"] = "dark" }) } }
suspect "q8" { title = "Q8, oscillator buffer", modes = { "dead", "low level" }, shows = { dead = both(none), ["low level"] = both(poor) } }
suspect "u1" { title = "U1, first mixer", modes = { "open diode" }, odds = 2, shows = { ["open diode"] = both(poor) } }
suspect "fl3" { title = "FL3, 45 MHz crystal filter", modes = { "cracked", "open" }, shows = { cracked = both(poor), open = both(none) } }
suspect "q3" { title = "Q3, 45 MHz amplifier", modes = { "dead", "low gain" }, odds = 2, shows = {
  dead = both(none, { TP18 = "8.9 V" }), ["low gain"] = both(poor) } }
suspect "y2" { title = "Y2, second oscillator", modes = { "dead" }, shows = { dead = both(none) } }
suspect "u2" { title = "U2, second mixer", modes = { "dead", "low gain" }, odds = 2, shows = { dead = both(none), ["low gain"] = both(poor) } }
suspect "fl4" { title = "FL4, 455 kHz ceramic filter", modes = { "shifted" }, odds = 2, shows = { shifted = both(poor) } }
suspect "u3" { title = "U3, 455 kHz amplifier", modes = { "dead", "low gain" }, odds = 2, shows = {
  dead = mute { TP9 = "0 V", TP10 = "0 V", TP11 = "0 V", J3 = "0 V" }, ["low gain"] = both(poor) } }
suspect "u6" { title = "U6, AGC amplifier", modes = { "pulls down", "lost" }, odds = 2, shows = {
  ["pulls down"] = both(poor, { ["agc-quiet"] = "0.6 V", ["agc-strong"] = "0.6 V" }),
  lost = { ["intake/entry"] = "strong", ["agc-strong"] = "4 V +/- 2 %" } } }
suspect "c35" { title = "C35, on the AGC line", modes = { "leaky" }, odds = 2, shows = {
  leaky = both(poor, { ["agc-quiet"] = "0.5 V", ["agc-off"] = "0.5 V", ["agc-strong"] = "0.5 V" }) } }
suspect "u4" { title = "U4, detector", modes = { "dead", "weak" }, odds = 2, shows = { dead = mute(), weak = both("7 dB") } }
suspect "q7" { title = "Q7, squelch gate", modes = { "stuck shut", "leaks" }, shows = {
  ["stuck shut"] = mute(), leaks = squelch { ["squelch-shuts"] = "stays" } } }
suspect "r20" { title = "R20, VOLUME", modes = { "open" }, shows = { open = mute() } }
suspect "u5" { title = "U5, audio amplifier", modes = { "dead" }, odds = 2, shows = { dead = mute() } }
suspect "speaker" { title = "LS1, or the switch of J3 that feeds it", modes = { "open" }, odds = 2, shows = { open = { ["intake/entry"] = "silent", hiss = "none" } } }
suspect "u7" { title = "U7, noise amplifier of the squelch", modes = { "dead", "oscillates" }, shows = {
  dead = squelch { ["squelch-shuts"] = "stays", ["noise-quiet"] = "0.05 V" },
  oscillates = mute { ["mute-line"] = "4.9 V", ["noise-driven"] = "4.9 V" } } }
suspect "r30" { title = "R30, SQUELCH", modes = { "open at the top", "open at the bottom" }, shows = {
  ["open at the top"] = mute { ["mute-line"] = "4.9 V", ["threshold-open"] = "0.05 V" },
  ["open at the bottom"] = squelch { ["squelch-shuts"] = "stays", ["threshold-tight"] = "4.5 V", ["set-r31"] = "4.4 V" } } }
suspect "r31" { title = "R31, squelch trimmer, out of adjustment", modes = { "shifted up", "shifted down" }, odds = 2, shows = {
  ["shifted up"] = squelch { ["squelch-shuts"] = "stays", ["threshold-tight"] = "3.6 V +/- 3 %" },
  ["shifted down"] = squelch { ["squelch-opens"] = "stays", ["threshold-tight"] = "0.2 V +/- 5 %" } } }
suspect "u8" { title = "U8, squelch comparator", modes = { "stuck open", "stuck shut" }, shows = {
  ["stuck open"] = squelch { ["squelch-shuts"] = "stays", ["mute-quiet"] = "0.05 V" },
  ["stuck shut"] = mute { ["mute-line"] = "4.9 V" } } }
suspect "settings" { title = "SQUELCH, VOLUME or BAND set wrong", modes = { "set" }, odds = 3, shows = { set = { ["intake/entry"] = "silent", settings = "wrong" } } }
healthy {
  ["intake/entry"] = "weak", lamp = "lit", ["lamp-again"] = "lit", settings = "right", hiss = "loud", ["sinad-vhf"] = "19 dB +/- 2 dB",
  ["sinad-uhf"] = "18 dB +/- 2 dB", ["squelch-shuts"] = "shuts", ["squelch-opens"] = "opens", ["squelch-again"] = "works", ["lock-lamp"] = "lit",
  P1 = "13.7 V +/- 2 %", ["noise-quiet"] = "3 V +/- 8 %", ["noise-driven"] = "0.2 V +/- 20 %", ["mute-line"] = "0.05 V", ["mute-quiet"] = "4.9 V +/- 1 %",
  ["threshold-open"] = "4.5 V +/- 2 %", ["threshold-tight"] = "0.8 V +/- 8 %", ["agc-quiet"] = "4 V +/- 3 %", ["agc-off"] = "4 V +/- 3 %",
  ["agc-strong"] = "2 V +/- 8 %", TP18 = "6 V +/- 6 %", ["d1-diode"] = "0.55 V +/- 5 %", ["w1-ohms"] = "0.2 ohm", ["k1-vhf"] = "0.2 ohm", ["k1-uhf"] = "0.2 ohm",
  ["bus-ohms"] = "950 ohm", ["f1-ohms"] = "0.1 ohm",
}

---------------------------------------------------------------- what many steps share

local cover = { "top-cover" }
-- As a receiver is judged: SQUELCH out of the way, VOLUME where no audio stage clips.
local function on_band(band, agc) return { band = band, agc = agc or "on", squelch = "open", volume = "middle" } end
local carrier = { vhf = "150 MHz", uhf = "450 MHz" }
local function weak_signal(band) return { "-113 dBm", at = "J1", freq = carrier[band], hookup = "source lead" } end
-- Strong enough for the level meter at every socket in the tray, far under what any stage stands.
local function strong_signal(band) return { "-60 dBm", at = "J1", freq = carrier[band or "vhf"], hookup = "source lead" } end
local banded = { "signal", worst = true, wider = "1.5 dB" }
local heard = { "audio", worst = true, wider = "1.5 dB" }
local function level(at, freq)
  return { "power", at = at, hookup = "edge lead", freq = freq, plausible = "-125 dBm .. 5 dBm" }
end
local function volts(at)
  return { "volts", at = at, against = "chassis", hookup = "prods", plausible = "-1 V .. 20 V" }
end
local function dead(kind, at, against)
  return { kind, at = at, against = against, hookup = "prods", plausible = kind == "diode" and "0 V .. 3 V" or "0 ohm .. 100 Mohm" }
end

---------------------------------------------------------------- dark

step "lamp" {
  title = "POWER lamp", see = "connectors",
  look = "What does the green POWER lamp do?",
  power = "on", minutes = 1,
  answers = {
    { "lit", "steady green", to = "settings", clears = { "feed-lead", "fuse", "d9" } },
    { "dark", "nothing at all", to = "feed" },
    { "smoke", "smoke, smell or crackling", stop = true },
  },
}

step "feed" {
  title = "13.8 V at P1", see = "connectors",
  read = volts "P1", limits = "13.8 V +/- 5 %",
  power = "on", minutes = 2,
  note = "On the pins of P1 with the lead plugged in, from behind.",
  ok = { to = "f1-ohms", clears = { "feed-lead" } },
  low = { to = "found-feed-lead", clears = { "fuse", "d9" }, implicates = { "feed-lead" } },
  otherwise = "unclear",
}

step "f1-ohms" {
  title = "F1, in its clips", see = "board",
  read = dead("ohms", "F1", "its other end"), limits = "at most 2 ohm",
  open = cover, minutes = 5,
  high = { to = "bus-ohms", implicates = { "fuse" } },
  ok = { to = "found-behind-f1", clears = { "fuse" } },
  otherwise = "unclear",
}

step "bus-ohms" {
  title = "Behind F1, before a new one goes in", see = "board",
  read = { "ohms", at = "TP12", against = "chassis", hookup = "prods", settle = "5 s", plausible = "0 ohm .. 100 Mohm" },
  limits = "at least 100 ohm", open = cover, minutes = 2,
  note = "C60 has 1 kohm across it. D9 dies short when the lead was the wrong way round.",
  ok = "new-f1", high = "new-f1",
  low = { to = "found-d9", implicates = { "d9" } },
  otherwise = "unclear",
}

step "new-f1" {
  title = "A new F1", see = "board",
  replace = "F1", text = "Put in a new F1, only of the rating printed beside its clips: F 2 A. Type what it says on its cap.",
  zone = "inside", open = cover, power = "dead", minutes = 3,
  voids = { "f1-ohms" }, cures = { "fuse" },
  next = "lamp-again",
}

step "lamp-again" {
  title = "POWER lamp with the new fuse", see = "connectors",
  look = "What does the lamp do now? Watch it for a minute.",
  power = "on", open = cover, minutes = 1,
  answers = {
    { "lit", "steady green", to = "found-fuse", implicates = { "fuse" }, clears = { "d9" } },
    { "dark", "nothing, or out again within the minute", to = "found-d9-breaks", implicates = { "d9" } },
    { "smoke", "smoke, smell or crackling", stop = true },
  },
}

---------------------------------------------------------------- from outside

step "settings" {
  title = "As the owner left it", see = "connectors",
  look = "Look at BAND, SQUELCH and VOLUME as you wrote them down. Is BAND that of the owner's channel, SQUELCH not at its tight end, " ..
         "VOLUME up?",
  power = "any", minutes = 1,
  answers = {
    { "right", "nothing that explains it", to = "hiss", clears = { "settings" } },
    { "wrong", "one of them would do it", to = "hiss" },
  },
}

step "hiss" {
  title = "Noise with SQUELCH open", see = "connectors",
  look = "With nothing at J1, does the loudspeaker hiss?",
  set = on_band "vhf", power = "on", minutes = 1,
  note = "A receiver that hisses has everything from its detector on.",
  answers = {
    { "loud", "a steady hiss", to = "sinad-vhf", clears = { "u5", "r20", "speaker" } },
    { "none", "nothing", to = "rails" },
  },
}

for band, after in pairs { vhf = "sinad-uhf", uhf = "which-band" } do
  step("sinad-" .. band) {
    title = "Sensitivity, " .. band:upper(), see = "connectors",
    inject = weak_signal(band), set = on_band(band),
    read = { "sinad", at = "J3", hookup = "audio lead", settle = "5 s", plausible = "0 dB .. 60 dB" },
    limits = "at least 12 dB", power = "on", minutes = 3,
    note = "-113 dBm with FM of 1 kHz at 3 kHz deviation. A healthy one shows 18 dB or so.",
    low = after, ok = after, high = after, unsure = after, unread = "unclear",
  }
end

-- One band alone is no fault of what both share; both are a fault of nothing that belongs to one.
step "which-band" {
  title = "One band, or both?",
  uses = { vhf = "sinad-vhf", uhf = "sinad-uhf" },
  decide = function(v, outcome)
    local vhf, uhf = outcome.vhf, outcome.uhf
    if vhf == "ok" and uhf == "ok" then return "what-helped" end
    if vhf == "low" and uhf == "low" then return "agc-quiet" end
    if vhf == "low" and uhf == "ok" then return "feed-vhf" end
    if uhf == "low" and vhf == "ok" then return "feed-uhf" end
    return "unclear"
  end,
  to = {
    "what-helped", "unclear",
    { to = "agc-quiet", clears = { "settings", "k1", "fl1", "q1", "q5", "vco-vhf", "fl2", "q2", "q6", "vco-uhf" } },
    { to = "feed-vhf", clears = { "settings", "fl2", "q2", "q6", "vco-uhf", "w1", "d1", "u1", "fl3", "q3", "y2", "u2", "fl4", "u3", "u4", "u6", "c35",
                                  "reference", "synth", "q8", "u9", "u10", "p9-load" } },
    { to = "feed-uhf", clears = { "settings", "fl1", "q1", "q5", "vco-vhf", "w1", "d1", "u1", "fl3", "q3", "y2", "u2", "fl4", "u3", "u4", "u6", "c35",
                                  "reference", "synth", "q8", "u9", "u10", "p9-load" } },
  },
}

step "what-helped" {
  title = "What put it right?",
  uses = { settings = "settings" },
  decide = function(v) return v.settings == "wrong" and "found-settings" or "not-shown" end,
  to = { { to = "found-settings", implicates = { "settings" } }, "not-shown" },
}

---------------------------------------------------------------- one band low

-- The two front ends and their oscillators are alike but for their names.
for _, b in ipairs {
  { band = "vhf", name = "VHF", filter = "fl1", title = "FL1", trimmers = "C4 and C5", amp = "q1", feed = "q5", feed_at = "TP15",
    lo = "195 MHz", back = "2 dB" },
  { band = "uhf", name = "UHF", filter = "fl2", title = "FL2", trimmers = "C14 and C15", amp = "q2", feed = "q6", feed_at = "TP16",
    lo = "405 MHz", back = "2 dB" },
} do
  local band, vco = b.band, "vco-" .. b.band
  step("feed-" .. band) {
    title = "Feed of the " .. b.name .. " front end", see = "board",
    set = on_band(band), read = volts(b.feed_at), expect = { "signal", worst = true, wider = "0.5 dB" },
    power = "on", open = cover, minutes = 4,
    ok = { to = "front-" .. band, clears = { b.feed } }, high = { to = "front-" .. band, clears = { b.feed } },
    low = { to = "found-" .. b.feed, implicates = { b.feed } },
    otherwise = "unclear",
  }
  step("front-" .. band) {
    title = "Behind the " .. b.name .. " front end", see = "board",
    inject = strong_signal(band), set = on_band(band), read = level("TP1", carrier[band]), expect = banded,
    power = "on", open = cover, minutes = 3,
    ok = { to = "lo-" .. band, clears = { "k1", b.filter, b.amp } }, high = { to = "lo-" .. band, clears = { "k1", b.filter, b.amp } },
    low = { to = "k1-" .. band, clears = { vco } },
    otherwise = "unclear",
  }
  step("lo-" .. band) {
    title = "First oscillator, " .. b.name, see = "board",
    set = on_band(band), read = level("TP2", b.lo), expect = banded,
    power = "on", open = cover, minutes = 2,
    low = { to = "found-" .. vco, implicates = { vco } },
    otherwise = "unclear",
  }
  step("k1-" .. band) {
    title = "K1, its " .. b.name .. " contact", see = "board",
    read = dead("continuity", "K1", "its " .. b.name .. " contact"), limits = "at most 2 ohm",
    open = cover, minutes = 4,
    note = "K1 latches: without power it stays where BAND last put it.",
    high = { to = "found-k1", clears = { b.filter, b.amp }, implicates = { "k1" } },
    ok = { to = "peak-" .. band, clears = { "k1" } },
    otherwise = "unclear",
  }
  step("peak-" .. band) {
    title = b.title .. ", back to its peak", see = "board",
    inject = strong_signal(band), set = on_band(band),
    adjust = { "Mark how " .. b.trimmers .. " stand. Turn one, then the other, with the insulated tool, no more than a quarter of a turn, for the " ..
               "most at TP1.", tries = 4, read = level("TP1", carrier[band]) },
    limits = band == "vhf" and "-69.2 dBm +/- 4 dB" or "-70.2 dBm +/- 4 dB",
    power = "on", open = cover, minutes = 5,
    cures = { b.filter },
    ok = { to = "found-" .. b.filter, implicates = { b.filter }, clears = { b.amp } },
    low = "found-front-" .. band, otherwise = "unclear",
  }
end

---------------------------------------------------------------- both bands low

step "agc-quiet" {
  title = "AGC volts without a signal to speak of", see = "connectors",
  inject = weak_signal "vhf", set = on_band "vhf",
  read = volts "J9.1", limits = "4 V +/- 8 %", power = "on", minutes = 2,
  note = "4 V is full gain. It falls as the signal rises.",
  ok = { to = "rails", clears = { "c35" } },
  low = "agc-off", otherwise = "unclear",
}

step "agc-off" {
  title = "AGC volts with AGC off", see = "connectors",
  inject = weak_signal "vhf", set = on_band("vhf", "off"),
  read = volts "J9.1", limits = "4 V +/- 8 %", power = "on", minutes = 1,
  note = "Off, U6 has no say, and R36 holds the line up from +9 V.",
  ok = { to = "found-u6", clears = { "c35" }, implicates = { "u6" } },
  low = { to = "rails", clears = { "u6" } }, otherwise = "unclear",
}

step "rails" {
  title = "+9 V and +5 V", see = "board",
  collect = {
    { "p9", "volts", at = "TP13", against = "chassis", hookup = "prods", limits = "9 V +/- 5 %", plausible = "-1 V .. 20 V" },
    { "p5", "volts", at = "TP14", against = "chassis", hookup = "prods", limits = "5 V +/- 5 %", plausible = "-1 V .. 20 V" },
  },
  power = "on", open = cover, minutes = 4,
  uses = { hiss = "hiss", agc = "agc-off" },
  decide = function(v, outcome)
    local p9, p5 = outcome.p9, outcome.p5
    if p9 == "low" or p9 == "high" then return "part-x9" end
    if p9 == "ok" and (p5 == "low" or p5 == "high") then return "found-u10" end
    if p9 ~= "ok" or p5 ~= "ok" then return "unclear" end
    if v.hiss == "none" then return "mute-line" end
    return outcome.agc == "low" and "found-c35" or "tp4"
  end,
  to = {
    "part-x9", "unclear", { to = "found-u10", clears = { "u9", "p9-load" }, implicates = { "u10" } },
    { to = "mute-line", clears = { "u9", "u10", "p9-load" } }, { to = "found-c35", clears = { "u9", "u10", "p9-load" }, implicates = { "c35" } },
    { to = "tp4", clears = { "u9", "u10", "p9-load" } },
  },
}

step "part-x9" {
  title = "Part X9", see = "board",
  act = "Part X9, the two-pole plug that takes +9 V to the signal board.",
  open = cover, power = "off", zone = "inside", minutes = 2,
  makes = { "x9-parted" },
  next = "p9-alone",
}

step "p9-alone" {
  title = "+9 V without the signal board", see = "board",
  read = volts "TP13", limits = "9 V +/- 5 %",
  power = "on", open = cover, with = { "x9-parted" }, minutes = 1,
  ok = { to = "found-p9-load", clears = { "u9" }, implicates = { "p9-load" } },
  low = { to = "found-u9", clears = { "p9-load" }, implicates = { "u9" } }, high = { to = "found-u9", clears = { "p9-load" }, implicates = { "u9" } },
  otherwise = "unclear",
}

step "tp4" {
  title = "Half way: 45 MHz behind Q3", see = "board",
  inject = strong_signal(), set = on_band("vhf", "off"), read = level("TP4", "45 MHz"), expect = banded,
  power = "on", open = cover, minutes = 3,
  ok = { to = "tp5", clears = { "w1", "d1", "reference", "synth", "q8", "u1", "fl3", "q3" } },
  high = { to = "tp5", clears = { "w1", "d1", "reference", "synth", "q8", "u1", "fl3", "q3" } },
  low = { to = "tp1", clears = { "y2", "u2", "fl4", "u3", "u4", "u6" } },
  otherwise = "unclear",
}

-- in front of TP4

step "tp1" {
  title = "Behind the front end", see = "board",
  inject = strong_signal(), set = on_band("vhf", "off"), read = level("TP1", "150 MHz"), expect = banded,
  power = "on", open = cover, minutes = 2,
  ok = { to = "lock-lamp", clears = { "w1", "d1" } }, high = { to = "lock-lamp", clears = { "w1", "d1" } },
  low = { to = "d1-diode", clears = { "reference", "synth", "q8", "u1", "fl3", "q3" } },
  otherwise = "unclear",
}

step "d1-diode" {
  title = "D1, input limiter", see = "board",
  read = dead("diode", "D1", "chassis"), limits = "0.3 V .. 0.8 V", open = cover, minutes = 4,
  low = { to = "found-d1", implicates = { "d1" } },
  ok = { to = "w1-ohms", clears = { "d1" } }, otherwise = "unclear",
}

step "w1-ohms" {
  title = "W1, end to end", see = "board",
  read = dead("continuity", "J1", "D1"), limits = "at most 2 ohm", open = cover, minutes = 2,
  note = "At direct current: a joint that is poor at 150 MHz may well read whole.",
  high = { to = "found-w1", implicates = { "w1" } },
  ok = { to = "found-w1-joint", implicates = { "w1" } }, otherwise = "unclear",
}

step "lock-lamp" {
  title = "LOCK lamp", see = "board",
  look = "What does the LOCK lamp beside U11 show?",
  set = on_band("vhf", "off"), power = "on", open = cover, minutes = 1,
  answers = {
    { "lit", "steady", to = "tp2", clears = { "reference", "synth" } },
    { "blinks", "on and off", to = "tp8" },
    { "dark", "nothing", to = "tp8" },
  },
}

step "tp8" {
  title = "12.8 MHz reference", see = "board",
  read = level("TP8", "12.8 MHz"), expect = banded,
  power = "on", open = cover, minutes = 2,
  ok = { to = "found-synth", clears = { "reference" }, implicates = { "synth" } },
  high = { to = "found-synth", clears = { "reference" }, implicates = { "synth" } },
  low = { to = "found-reference", clears = { "synth" }, implicates = { "reference" } },
  otherwise = "unclear",
}

step "tp2" {
  title = "First oscillator, into the mixer", see = "board",
  set = on_band("vhf", "off"), read = level("TP2", "195 MHz"), expect = banded,
  power = "on", open = cover, minutes = 2,
  ok = { to = "tp3", clears = { "q8" } }, high = { to = "tp3", clears = { "q8" } },
  low = { to = "found-q8", implicates = { "q8" } },
  otherwise = "unclear",
}

step "tp3" {
  title = "45 MHz behind the first mixer", see = "board",
  inject = strong_signal(), set = on_band("vhf", "off"), read = level("TP3", "45 MHz"), expect = banded,
  power = "on", open = cover, minutes = 2,
  ok = { to = "tp18", clears = { "u1" } }, high = { to = "tp18", clears = { "u1" } },
  low = { to = "found-u1", clears = { "fl3", "q3" }, implicates = { "u1" } },
  otherwise = "unclear",
}

step "tp18" {
  title = "Collector of Q3", see = "board",
  set = on_band("vhf", "off"), read = volts "TP18", limits = "6 V +/- 15 %",
  power = "on", open = cover, minutes = 2,
  high = { to = "found-q3", clears = { "fl3" }, implicates = { "q3" } },
  low = { to = "found-q3", clears = { "fl3" }, implicates = { "q3" } },
  ok = "found-fl3-q3", otherwise = "unclear",
}

-- behind TP4

step "tp5" {
  title = "455 kHz behind FL4", see = "board",
  inject = strong_signal(), set = on_band("vhf", "off"), read = level("TP5", "455 kHz"), expect = banded,
  power = "on", open = cover, minutes = 2,
  ok = { to = "tp6", clears = { "y2", "u2", "fl4" } }, high = { to = "tp6", clears = { "y2", "u2", "fl4" } },
  low = { to = "tp7", clears = { "u3", "u4" } },
  otherwise = "unclear",
}

step "tp7" {
  title = "Second oscillator", see = "board",
  set = on_band("vhf", "off"), read = level("TP7", "44.545 MHz"), expect = banded,
  power = "on", open = cover, minutes = 2,
  ok = { to = "new-fl4", clears = { "y2" } }, high = { to = "new-fl4", clears = { "y2" } },
  low = { to = "found-y2", clears = { "u2", "fl4" }, implicates = { "y2" } },
  otherwise = "unclear",
}

step "new-fl4" {
  title = "Another FL4", see = "board",
  replace = "FL4", text = "FL4 costs little and comes out first: put in a new 455 kHz ceramic filter of the same bandwidth. Type its marking.",
  zone = "inside", open = cover, power = "dead", minutes = 8,
  voids = { "tp5" }, cures = { "fl4" },
  next = "tp5-again",
}

step "tp5-again" {
  title = "455 kHz behind the new FL4", see = "board",
  inject = strong_signal(), set = on_band("vhf", "off"), read = level("TP5", "455 kHz"), expect = banded,
  power = "on", open = cover, minutes = 2,
  ok = { to = "found-fl4", clears = { "u2" }, implicates = { "fl4" } }, high = { to = "found-fl4", clears = { "u2" }, implicates = { "fl4" } },
  low = { to = "found-u2", clears = { "fl4" }, implicates = { "u2" } },
  otherwise = "unclear",
}

step "tp6" {
  title = "455 kHz behind U3", see = "board",
  inject = strong_signal(), set = on_band("vhf", "off"), read = level("TP6", "455 kHz"), expect = banded,
  power = "on", open = cover, minutes = 2,
  low = { to = "found-u3", clears = { "u4" }, implicates = { "u3" } },
  ok = { to = "found-u4", clears = { "u3" }, implicates = { "u4" } }, high = { to = "found-u4", clears = { "u3" }, implicates = { "u4" } },
  otherwise = "unclear",
}

---------------------------------------------------------------- no hiss

step "mute-line" {
  title = "Mute line with SQUELCH open", see = "connectors",
  set = on_band "vhf", read = volts "J9.4", limits = "-0.2 V .. 0.5 V", power = "on", open = cover, minutes = 1,
  high = { to = "noise-driven", clears = { "u3", "u4", "q7", "r20", "u5", "speaker" } },
  ok = { to = "tp9", clears = { "u7", "r30", "u8" } }, otherwise = "unclear",
}

step "noise-driven" {
  title = "Noise volts with a strong signal", see = "connectors",
  inject = strong_signal(), set = on_band "vhf", read = volts "J9.2", limits = "0 V .. 0.5 V", power = "on", open = cover, minutes = 2,
  high = { to = "found-u7", clears = { "r30", "u8" }, implicates = { "u7" } },
  ok = { to = "threshold-open", clears = { "u7" } }, otherwise = "unclear",
}

step "threshold-open" {
  title = "Threshold with SQUELCH open", see = "connectors",
  set = on_band "vhf", read = volts "J9.3", limits = "4.5 V +/- 10 %", power = "on", open = cover, minutes = 1,
  low = { to = "found-r30-open", clears = { "u8" }, implicates = { "r30" } },
  ok = { to = "found-u8", clears = { "r30" }, implicates = { "u8" } }, otherwise = "unclear",
}

-- From the detector to the loudspeaker, point by point: the first one without audio has the fault in front of it.
for _, p in ipairs {
  { "TP9", "Audio out of the detector", "tp10", "tp6-silent", clears = { "u3", "u4" } },
  { "TP10", "Audio behind the squelch gate", "tp11", "found-q7", suspect = "q7" },
  { "TP11", "Audio behind VOLUME", "j3", "found-r20", suspect = "r20" },
  { "J3", "Audio at the loudspeaker socket", "found-speaker", "found-u5", suspect = "u5", last = true },
} do
  local clears = p.clears or { p.suspect }
  step(p[1]:lower()) {
    title = p[2], see = p.last and "connectors" or "board",
    inject = strong_signal(), set = on_band "vhf",
    read = { "ac volts", at = p[1], against = "chassis", hookup = "audio lead", freq = "1 kHz", plausible = "0 V .. 10 V" }, expect = heard,
    power = "on", open = cover, minutes = 1,
    ok = { to = p[3], clears = clears, implicates = p.last and { "speaker" } or nil },
    high = { to = p[3], clears = clears, implicates = p.last and { "speaker" } or nil },
    low = { to = p[4], implicates = p.suspect and { p.suspect } or nil },
    otherwise = "unclear",
  }
end

step "tp6-silent" {
  title = "455 kHz into the detector", see = "board",
  inject = strong_signal(), set = on_band("vhf", "off"), read = level("TP6", "455 kHz"), expect = banded,
  power = "on", open = cover, minutes = 2,
  low = { to = "found-u3-silent", clears = { "u4" }, implicates = { "u3" } },
  ok = { to = "found-u4", clears = { "u3" }, implicates = { "u4" } }, high = { to = "found-u4", clears = { "u3" }, implicates = { "u4" } },
  otherwise = "unclear",
}

---------------------------------------------------------------- squelch

local tight = { band = "vhf", squelch = "tight", volume = "middle" }

step "squelch-shuts" {
  title = "Does it shut?", see = "connectors",
  look = "With nothing at J1 and SQUELCH at its tight end, is the loudspeaker silent?",
  set = tight, power = "on", minutes = 1,
  answers = {
    { "shuts", "silent", to = "squelch-opens" },
    { "stays", "it goes on hissing", to = "noise-quiet" },
  },
}

step "squelch-opens" {
  title = "Does it open?", see = "connectors",
  inject = weak_signal "vhf", set = { band = "vhf", agc = "on", squelch = "its mark", volume = "middle" },
  look = "With -113 dBm at J1 and SQUELCH at its mark, is the tone heard?",
  power = "on", minutes = 2,
  answers = {
    { "opens", "the tone is heard", to = "not-shown" },
    { "stays", "silent", to = "threshold-tight" },
  },
}

step "noise-quiet" {
  title = "Noise volts without a signal", see = "connectors",
  set = tight, read = volts "J9.2", limits = "3 V +/- 15 %", power = "on", minutes = 1,
  low = { to = "found-u7", clears = { "r30", "r31", "u8", "q7" }, implicates = { "u7" } },
  ok = { to = "threshold-tight", clears = { "u7" } }, otherwise = "unclear",
}

step "threshold-tight" {
  title = "Threshold with SQUELCH tight", see = "connectors",
  set = tight, read = volts "J9.3", limits = "0.8 V +/- 20 %", power = "on", minutes = 1,
  high = { to = "set-r31", clears = { "q7", "u8" } }, low = { to = "set-r31", clears = { "q7", "u8" } },
  ok = { to = "mute-quiet", clears = { "r30", "r31" } }, otherwise = "unclear",
}

step "set-r31" {
  title = "R31, squelch trimmer", see = "connectors",
  adjust = { "Mark how R31 stands, at the rear beside J9. Turn it with the insulated tool until J9 pin 3 shows 0.8 V.", tries = 4, read = volts "J9.3" },
  limits = "0.8 V +/- 15 %", set = tight, power = "on", outside = true, minutes = 4,
  cures = { "r31" },
  ok = "squelch-again",
  high = { to = "found-r30", clears = { "r31" }, implicates = { "r30" } }, low = { to = "found-r30", clears = { "r31" }, implicates = { "r30" } },
  otherwise = "unclear",
}

step "squelch-again" {
  title = "Squelch with R31 set", see = "connectors",
  inject = weak_signal "vhf", set = { band = "vhf", agc = "on", squelch = "its mark", volume = "middle" },
  look = "With SQUELCH at its mark, does it open for -113 dBm, and shut when the source's output is switched off?",
  power = "on", minutes = 2,
  answers = {
    { "works", "both", to = "found-r31", clears = { "r30" }, implicates = { "r31" } },
    { "not", "one of them does not", to = "unclear" },
  },
}

step "mute-quiet" {
  title = "Mute line with SQUELCH tight", see = "connectors",
  set = tight, read = volts "J9.4", limits = "4.9 V +/- 8 %", power = "on", minutes = 1,
  low = { to = "found-u8", clears = { "q7" }, implicates = { "u8" } },
  ok = { to = "found-q7", clears = { "u8" }, implicates = { "q7" } }, otherwise = "unclear",
}

---------------------------------------------------------------- strong signals

step "agc-strong" {
  title = "AGC volts with a strong signal", see = "connectors",
  inject = { "-30 dBm", at = "J1", freq = "150 MHz", hookup = "source lead" }, set = on_band "vhf",
  read = volts "J9.1", limits = "2 V +/- 20 %", power = "on", minutes = 2,
  high = { to = "found-u6", clears = { "c35" }, implicates = { "u6" } },
  low = "agc-off", ok = "not-shown", otherwise = "unclear",
}

---------------------------------------------------------------- ends

local function found(id, t)
  step("found-" .. id)(t)
end

found("feed-lead", { finding = { "feed-lead" }, title = "The 13.8 V lead or P1", proof = "The bench supply gives 13.8 V, and they do not come to P1." })
found("behind-f1", { finding = "Not separated", suspects = {}, title = "Dark, with P1 and F1 whole",
  proof = "13.8 V come to P1, and F1 reads whole.", not_tested = "The lamp itself, and the clips of F1 under load." })
found("fuse", { finding = { "fuse" }, title = "F1 had blown; the new one holds",
  proof = "F1 read open, nothing behind it is shorted, and with a new one the lamp stays lit.",
  not_tested = "Why it blew: let it run for an hour before it goes back, and try both bands." })
found("d9", { finding = { "d9" }, title = "D9, reverse-polarity diode, short", proof = "F1 read open, and behind it the bus reads under 100 ohm.",
  advice = "Ask how the unit was last connected. With a new D9 read the bus again before a new F1 goes in." })
found("d9-breaks", { finding = { "d9" }, title = "D9 breaks down under voltage", proof = "The bus reads no short, and with a new F1 the lamp is dark again.",
  advice = "Not a third fuse before D9 is new." })
found("settings", { finding = { "settings" }, title = "It was set wrong", proof = "A knob stood so that it makes this fault, and with all set right both bands are.",
  advice = "Show the owner; nothing was replaced." })
found("u9", { finding = { "u9" }, title = "U9, 9 V regulator", proof = "+9 V is wrong with X9 parted.", advice = "Put X9 together again." })
found("p9-load", { finding = { "p9-load" }, title = "Something on the signal board pulls +9 V down", proof = "+9 V comes back when X9 is parted.",
  not_tested = "Which part: measure along the line, dead, from X9 on.", advice = "Put X9 together again after the repair." })
found("u10", { finding = { "u10" }, title = "U10, 5 V regulator", proof = "+9 V is right and +5 V is not." })
found("w1", { finding = { "w1" }, title = "W1, cable from J1", proof = "TP1 is low, D1 shows a junction, and W1 reads open." })
found("w1-joint", { finding = { "w1" }, title = "W1 or its joints, poor at radio frequency",
  proof = "TP1 is low in both bands, D1 shows a junction, and W1 reads whole at direct current.",
  not_tested = "W1 at 150 MHz: exchange it, and read TP1 again." })
found("d1", { finding = { "d1" }, title = "D1, input limiter", proof = "TP1 is low in both bands, and D1 shows no junction.",
  advice = "Ask what was on the antenna, or keyed beside it: a limiter dies of something." })
found("k1", { finding = { "k1" }, title = "K1, band relay", proof = "One band is low at TP1, and its contact of K1 reads open with BAND there." })
for _, b in ipairs {
  { "vhf", "VHF", "fl1", "FL1", "q1", "Q1", "q5", "Q5" }, { "uhf", "UHF", "fl2", "FL2", "q2", "Q2", "q6", "Q6" },
} do
  found(b[3], { finding = { b[3] }, title = b[4] .. " was off its peak", proof = "Only " .. b[2] .. " was low at TP1, and its trimmers brought it back.",
    not_tested = "SINAD afterwards: read it once more on both bands.", advice = "Seal the trimmers; they stand turned." })
  found("front-" .. b[1], { finding = { b[3], b[5] }, separated = false, title = b[4] .. " or " .. b[6] .. ", not separated",
    proof = "Only " .. b[2] .. " is low at TP1, its feed and its contact of K1 are right, and the trimmers do not help.",
    not_tested = "No socket stands between them: exchange " .. b[6] .. " first, with the strap on." })
  found(b[7], { finding = { b[7] }, title = b[8] .. ", feed of the " .. b[2] .. " front end", proof = "Its 8.7 V are missing with BAND there, and +9 V serves the other band." })
  found("vco-" .. b[1], { finding = { "vco-" .. b[1] }, title = b[2] .. " oscillator at U11", proof = "Only " .. b[2] .. " is low, TP1 is right and TP2 is not." })
end
found("reference", { finding = { "reference" }, title = "G1, 12.8 MHz reference", proof = "LOCK is not lit, and TP8 is low." })
found("synth", { finding = { "synth" }, title = "U11, synthesiser", proof = "LOCK is not lit, with a good reference at TP8." })
found("q8", { finding = { "q8" }, title = "Q8, oscillator buffer", proof = "LOCK is lit, and TP2 is low." })
found("u1", { finding = { "u1" }, title = "U1, first mixer", proof = "Signal and oscillator are right at TP1 and TP2, and TP3 is low." })
found("q3", { finding = { "q3" }, title = "Q3, 45 MHz amplifier", proof = "TP3 is right, TP4 is low, and the collector of Q3 is not at its 6 V." })
found("fl3-q3", { finding = { "fl3", "q3" }, separated = false, title = "FL3 or Q3, not separated",
  proof = "TP3 is right, TP4 is low, and Q3 draws its current.", not_tested = "Between FL3 and Q3 there is no socket: bridge FL3 with 10 pF and read TP4 again." })
found("y2", { finding = { "y2" }, title = "Y2, second oscillator", proof = "TP4 is right, TP5 and TP7 are low." })
found("fl4", { finding = { "fl4" }, title = "FL4, 455 kHz filter", proof = "TP5 was low, and a new FL4 brought it back." })
found("u2", { finding = { "u2" }, title = "U2, second mixer", proof = "TP4 and TP7 are right, and TP5 is low with a new FL4 too." })
found("u3", { finding = { "u3" }, title = "U3, 455 kHz amplifier", proof = "TP6 is low, and what comes before is right." })
found("u3-silent", { finding = { "u3" }, title = "U3, 455 kHz amplifier",
  proof = "There is no hiss, and neither audio at TP9 nor 455 kHz at TP6.",
  not_tested = "What comes before U3: it hisses by itself when nothing comes to it, so its silence is its own." })
found("u4", { finding = { "u4" }, title = "U4, detector", proof = "455 kHz come to it at TP6, and what it gives is poor or missing." })
found("u6", { finding = { "u6" }, title = "U6, AGC amplifier", proof = "The AGC volts do not follow the signal with AGC on, and the line itself is free." })
found("c35", { finding = { "c35" }, title = "C35, on the AGC line, leaky", proof = "The AGC volts stay low with AGC off, on a good +9 V." })
found("u7", { finding = { "u7" }, title = "U7, noise amplifier", proof = "The noise volts at J9 pin 2 are not those of the signal at J1." })
found("r30", { finding = { "r30" }, title = "R30, SQUELCH", proof = "The threshold at J9 pin 3 is wrong, and R31 cannot set it." })
found("r30-open", { finding = { "r30" }, title = "R30, SQUELCH",
  proof = "The noise volts are right, and with SQUELCH open the threshold at J9 pin 3 is low.",
  not_tested = "R31: it moves the tight end of SQUELCH. Read J9 pin 3 there with a new R30." })
found("r31", { finding = { "r31" }, title = "R31 was out of adjustment", proof = "The threshold was wrong, and with R31 set the squelch works both ways.",
  not_tested = "Whether it drifts: read J9 pin 3 again after an hour.", advice = "Seal R31; it stands turned." })
found("u8", { finding = { "u8" }, title = "U8, squelch comparator", proof = "Noise and threshold are right, and the mute line does not follow them." })
found("q7", { finding = { "q7" }, title = "Q7, squelch gate", proof = "The mute line is right, and Q7 does not do as it says." })
found("r20", { finding = { "r20" }, title = "R20, VOLUME", proof = "There is audio at TP10 and none at TP11." })
found("u5", { finding = { "u5" }, title = "U5, audio amplifier", proof = "There is audio at TP11 and none at J3." })
found("speaker", { finding = { "speaker" }, title = "The loudspeaker, or the switch of J3", proof = "Audio is right at J3, and nothing is heard." })

step "not-shown" {
  finding = "The fault does not show", suspects = {}, title = "The fault does not show",
  proof = "It never showed as the owner has it, or both bands, squelch and AGC were right with nothing put right.",
  not_tested = "Cold, warm, shaken, on the owner's own antenna and channel.",
  advice = "Ask the owner when it happens.",
}
step "unclear" {
  finding = "Not separated", suspects = {}, title = "Stopped: no clear reading",
  proof = "A reading this isolation stands on could not be taken, lay on its limit, or contradicts another.",
  not_tested = "Everything still open in the list of suspects.",
  advice = "Mend the hookup or take a finer meter, and start again.",
}
