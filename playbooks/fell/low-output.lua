-- Low or no output of a Tarnbeck Fell. The chain is halved at TP2, where gain and conversion meet.
require "family"

playbook {
  id = "fell/low-output", edition = 3,
  title = "Fell down-converter: output low or absent",
  family = "Tarnbeck Fell",
  first = {
    "Ground the antenna feed, then take it off J1 and cap it: a lightning-struck feed may still carry a charge.",
    "Write down the channel shown; the owner wants it back.",
    "Try the mains lead and the outlet on something that works.",
    "If it smells burnt or hums, leave it off and type stop.",
  },
  symptom = {
    "the LEVEL bar shows more than 6 dB too little, or nothing",
    under = "mains on, BAND, GAIN and channel as the owner left them, -40 dBm in the middle of that channel into J1",
    power = "on", tries = 3, absent = "not-shown",
  },
  enter = {
    { "nothing", "the LEVEL bar stays dark", to = "power-lamp" },
    { "low", "the LEVEL bar shows a signal, but weak", to = "settings", clears = { "fuse", "primary" } },
  },
}

-- What each mode shows where the line-up does not tell of it; `healthy` says what a unit in order shows at a look.
suspect "fuse" { title = "F1, mains fuse", modes = { "open" }, odds = 2,
  shows = { open = { ["intake/entry"] = "nothing", ["power-lamp"] = "dark", ["fuse-reading"] = "OL" } } }
suspect "primary" { title = "rectifier or reservoir of the supply module", modes = { "short", "breaks down" },
  shows = { short = { ["intake/entry"] = "nothing", ["power-lamp"] = "dark", ["fuse-reading"] = "OL", C1 = "12 ohm" },
            ["breaks down"] = { ["intake/entry"] = "nothing", ["power-lamp"] = "dark", ["fuse-reading"] = "OL", ["lamp-again"] = "dark" } } }
suspect "psu" { title = "supply module", modes = { "dead", "one rail missing", "5 V low" }, odds = 2,
  shows = { dead = { ["intake/entry"] = "nothing", ["power-lamp"] = "dark", ["lamp-again"] = "dark", TP5 = "0 V", TP6 = "0 V" },
            ["one rail missing"] = { ["intake/entry"] = "nothing" },
            ["5 V low"] = { TP6 = "4.2 V +/- 4 %" } } }
suspect "tray-load" { title = "a short on the tray's 12 V or 5 V line", modes = { "short", "leaky" },
  shows = { short = { ["intake/entry"] = "nothing", ["power-lamp"] = "flickers", ["rails/p12"] = "0.3 V" },
            leaky = { ["rails/p12"] = "10.6 V +/- 4 %" } } }
suspect "limiter" { title = "D3, input limiter", modes = { "short", "leaky" }, odds = 4, shows = { short = { D3 = "0.02 V" } } }
suspect "w1" { title = "W1, cable from J1 to the filter bank", modes = { "open", "poor joint" }, odds = 2,
  shows = { open = { ["w1-ohms"] = "open" } } }
suspect "filter" { title = "filter bank, HIGH section", modes = { "open", "detuned" } }
suspect "lna" { title = "A1, first amplifier", modes = { "dead", "low gain", "pulls its feed down" }, odds = 4,
  shows = { ["pulls its feed down"] = { ["lna-feed-volts"] = "2.1 V" } } }
suspect "lna-feed" { title = "R7, feed of the first amplifier", modes = { "open", "risen" },
  shows = { open = { ["lna-feed-ohms"] = "OL" }, risen = { ["lna-feed-ohms"] = "470 ohm" } } }
suspect "mixer" { title = "U1, mixer", modes = { "open diode", "shorted diode" }, odds = 2 }
suspect "synth" { title = "A4, synthesiser", modes = { "no lock", "hunts" }, odds = 2,
  shows = { ["no lock"] = { ["lock-lamp"] = "dark" },
            hunts = { ["lock-lamp"] = "blinks", TP4 = "-24 dBm", TP3 = "-70 dBm", J2 = "-28 dBm" } } }
suspect "lo-buffer" { title = "A5, oscillator buffer", modes = { "low level", "sunk" },
  shows = { sunk = { ["lo-trim-up"] = "-13.3 dBm", ["output-trimmed"] = "-8 dBm" } } }
suspect "lo-trim" { title = "R12, oscillator level, out of adjustment", modes = { "shifted" } }
suspect "reference" { title = "G1, 10 MHz reference", modes = { "dead", "weak" },
  shows = { dead = { ["lock-lamp"] = "dark" }, weak = { ["lock-lamp"] = "blinks" } } }
suspect "if-amp" { title = "A2, 70 MHz amplifier", modes = { "dead", "low gain" }, odds = 3 }
suspect "settings" { title = "BAND or GAIN set wrong for the channel", modes = { "set" }, odds = 2, shows = { set = { settings = "wrong" } } }
healthy {
  ["intake/entry"] = "low", ["power-lamp"] = "lit", ["lamp-again"] = "lit", settings = "right", ["lock-lamp"] = "lit",
  ["filter-label"] = "3 dB", TP6 = "5 V +/- 2 %",
}

-- The signal's way, for `show`.
chain "signal" { "J1", "w1", "limiter", "filter", "TP1", "lna", "TP2", "mixer", "TP3", "if-amp", "settings", "J2", title = "the signal, from J1 to J2" }
chain "oscillator" { "reference", "TP8", "synth", "lo-buffer", "lo-trim", "TP4", "mixer", title = "the oscillator, into the mixer" }

-- Every level is counted from here: channel 1500 through the HIGH section, nothing held back by GAIN.
local straight = { band = "high", gain = "0 dB", channel = "1500" }

-- The same signal at J1 serves every level in the tray.
local function signal(freq)
  return { "-40 dBm", at = "J1", freq = freq or "1.5 GHz", hookup = "source lead" }
end

-- Every element at its worst at once is still no fault, and neither is what the meter cannot decide.
local banded = { "signal", worst = true, wider = "1.5 dB" }

---------------------------------------------------------------- power

step "power-lamp" {
  title = "Mains lamp",
  look = "What does the green mains lamp on the front do?",
  power = "on", minutes = 1,
  answers = {
    { "lit", "steady green", to = "settings", clears = { "fuse", "primary" } },
    { "dark", "nothing at all", to = "pull-fuse" },
    { "flickers", "lights and goes out, about once a second", to = "part-w3", clears = { "fuse", "primary" } },
    { "smoke", "smoke, smell or crackling", stop = true },
  },
}

step "pull-fuse" {
  title = "Take out F1",
  act = "Take F1 out of its holder inside the supply module and lay it on the mat.",
  zone = "primary", open = { "psu-shield" }, power = "dead", minutes = 6,
  makes = { "f1-out" },
  next = "fuse-reading",
}

step "fuse-reading" {
  title = "F1 on the mat",
  read = { "ohms", at = "F1", against = "its other end", hookup = "ohm leads", loose = true, plausible = "0 ohm .. 100 Mohm" },
  limits = "at most 2 ohm", minutes = 1,
  open = { "psu-shield" },
  ok = { to = "fuse-back", clears = { "fuse", "primary" } },
  high = { to = "primary-ohms", implicates = { "fuse" } },
  otherwise = "unclear",
}

step "fuse-back" {
  title = "The whole F1 back",
  act = "Put F1 back into its holder: it is not what keeps the lamp dark.",
  zone = "primary", open = { "psu-shield" }, power = "dead", minutes = 1,
  undoes = { "f1-out" },
  next = "rails",
}

step "primary-ohms" {
  title = "Across the reservoir, before a new fuse goes in", see = "board",
  note = "A fuse seldom dies alone. Under a few kilohm the rectifier or C1 took it along.",
  read = { "ohms", at = "C1", against = "its other pole", hookup = "ohm leads", settle = "5 s" },
  limits = "at least 20 kohm", open = { "psu-shield" }, unshort = { "C1" }, minutes = 3,
  ok = "new-fuse", high = "new-fuse",
  low = { to = "found-primary", implicates = { "primary" } },
  otherwise = "unclear",
}

step "new-fuse" {
  title = "A new F1",
  replace = "F1", text = "Lay out a new F1, only of the rating printed beside the holder: T 1 A, 250 V, " ..
                         "high breaking capacity. Type what it says on its cap.",
  zone = "primary", open = { "psu-shield" }, power = "dead", minutes = 3,
  voids = { "primary-ohms" }, cures = { "fuse" },
  next = "fuse-in",
}

step "fuse-in" {
  title = "F1 in its holder",
  act = "Put the new F1 into its holder.",
  zone = "primary", open = { "psu-shield" }, power = "dead", minutes = 1,
  undoes = { "f1-out" },
  next = "lamp-again",
}

step "lamp-again" {
  title = "Mains lamp with the new fuse",
  look = "What does the green lamp do now? Watch it for a minute.",
  power = "on", minutes = 1,
  answers = {
    { "lit", "steady green", to = "settings" },
    { "dark", "nothing, or out again within the minute", to = "found-mains-side" },
    { "smoke", "smoke, smell or crackling", stop = true },
  },
}

---------------------------------------------------------------- rails

step "settings" {
  title = "As the owner left it",
  look = "Look at BAND, GAIN and the channel as you wrote them down. Do they belong together: BAND LOW up to 1429, MID to 1470, HIGH above, " ..
         "and GAIN at 0 dB?",
  power = "any", minutes = 1,
  answers = {
    { "right", "they belong together", to = "rails", clears = { "settings" } },
    { "wrong", "BAND is not that of the channel, or GAIN holds something back", to = "rails" },
  },
}

step "rails" {
  title = "Supply rails, with the tray on them",
  collect = {
    { "p12", "volts", at = "TP5", against = "chassis", hookup = "volt leads", limits = "12 V +/- 4 %", plausible = "-1 V .. 20 V" },
    { "p5",  "volts", at = "TP6", against = "chassis", hookup = "volt leads", limits = "5 V +/- 4 %", plausible = "-1 V .. 10 V" },
  },
  power = "on", open = { "top-cover" }, minutes = 3,
  decide = function(v, outcome)
    if outcome.p12 == "ok" and outcome.p5 == "ok" then return "output-level" end
    for _, name in ipairs { "p12", "p5" } do
      if outcome[name] == "low" or outcome[name] == "high" then return "part-w3" end
    end
    return "unclear"
  end,
  to = { { to = "output-level", clears = { "primary", "psu", "tray-load" } }, "part-w3", "unclear" },
}

step "part-w3" {
  title = "Part W3",
  act = "Part W3, the white three-pole plug that feeds 12 V and 5 V to the tray.",
  open = { "top-cover" }, power = "off", zone = "inside", minutes = 2,
  makes = { "w3-parted" },
  next = "rails-alone",
}

step "rails-alone" {
  title = "Supply rails without the tray", see = "board",
  collect = {
    { "p12", "volts", at = "TP5", against = "chassis", hookup = "volt leads", limits = "12 V +/- 4 %", plausible = "-1 V .. 20 V" },
    { "p5",  "volts", at = "TP6", against = "chassis", hookup = "volt leads", limits = "5 V +/- 4 %", plausible = "-1 V .. 10 V" },
  },
  power = "on", open = { "top-cover" }, with = { "w3-parted" }, minutes = 2,
  ok = { to = "found-tray-load", clears = { "psu" }, implicates = { "tray-load" } },
  low = { to = "found-psu", implicates = { "psu" } }, high = { to = "found-psu", implicates = { "psu" } },
  otherwise = "unclear",
}

---------------------------------------------------------------- signal, halved at TP2

step "output-level" {
  title = "Output level", see = "connectors",
  set = straight,
  inject = signal(),
  read = { "power", at = "J2", hookup = "output lead", freq = "70 MHz", plausible = "-120 dBm .. 20 dBm" },
  expect = banded,
  power = "on", open = { "top-cover" }, minutes = 4,
  low = { to = "tp2-level", clears = { "settings" } }, unsure = "tp2-level",
  ok = "what-helped", high = "what-helped", unread = "unclear",
}

-- The output is right now: what has been changed since the fault was shown?
step "what-helped" {
  title = "What put it right?",
  uses = { f1 = "fuse-reading", settings = "settings" },
  decide = function(v, outcome)
    if outcome.f1 == "high" then return "found-fuse" end
    return v.settings == "wrong" and "found-settings" or "not-shown"
  end,
  to = { { to = "found-fuse", implicates = { "fuse" } }, { to = "found-settings", implicates = { "settings" } }, "not-shown" },
}

step "tp2-level" {
  title = "After the first amplifier", see = "board",
  set = straight,
  inject = signal(),
  read = { "power", at = "TP2", hookup = "tray lead", freq = "1.5 GHz", plausible = "-120 dBm .. -25 dBm" },
  expect = banded,
  power = "on", open = { "top-cover" }, minutes = 3,
  note = "-40 dBm in, filter bank 3 dB, amplifier +20 dB, sampled 20 dB down: -43 dBm.",
  ok = { to = "warm-up", clears = { "limiter", "w1", "filter", "lna", "lna-feed" } },
  high = { to = "warm-up", clears = { "limiter", "w1", "filter", "lna", "lna-feed" } },
  low = { to = "filter-label", clears = { "mixer", "synth", "lo-buffer", "lo-trim", "reference", "if-amp" } },
  otherwise = "unclear",
}

-- front half

step "filter-label" {
  title = "Loss stamped on the filter bank",
  read = { "loss", unit = "dB", asks = "Read the loss stamped on the filter bank's lid for the HIGH section.", plausible = "1 dB .. 6 dB" },
  open = { "top-cover" }, minutes = 1, holds = "all",
  next = "tp1-level", unread = "tp1-level",
}

step "tp1-level" {
  title = "After the filter bank", see = "board",
  set = straight,
  inject = signal(),
  read = { "power", at = "TP1", hookup = "tray lead", freq = "1.5 GHz", plausible = "-120 dBm .. -55 dBm" },
  uses = { loss = "filter-label" },
  limits = function(v)
    local loss = v.loss or 3
    return { -60 - loss - 3, -60 - loss + 3 }
  end,
  power = "on", open = { "top-cover" }, minutes = 3,
  ok = { to = "lna-feed-volts", clears = { "limiter", "w1", "filter" } },
  high = { to = "lna-feed-volts", clears = { "limiter", "w1", "filter" } },
  low = { to = "tp1-mid", clears = { "lna", "lna-feed" } },
  otherwise = "unclear",
}

step "lna-feed-volts" {
  title = "Feed of the first amplifier", see = "board",
  read = { "volts", at = "TP7", against = "chassis", hookup = "volt leads", plausible = "-1 V .. 15 V" },
  expect = { "signal", worst = true, wider = "0.5 dB" },
  power = "on", open = { "top-cover" }, minutes = 2,
  ok = { to = "found-lna", clears = { "lna-feed" }, implicates = { "lna" } },
  low = { to = "lna-feed-ohms" },
  high = { to = "found-lna", clears = { "lna-feed" }, implicates = { "lna" } },
  otherwise = "lna-feed-ohms",
}

step "lna-feed-ohms" {
  title = "R7", see = "board",
  note = "R7 is 100 ohm. Open, the amplifier is starved; whole, the amplifier pulls its feed down.",
  read = { "ohms", at = "TP7", against = "TP5", hookup = "ohm leads" },
  limits = "100 ohm +/- 10 %", open = { "top-cover" }, minutes = 4,
  ok = { to = "found-lna", clears = { "lna-feed" }, implicates = { "lna" } },
  high = { to = "found-lna-feed", clears = { "lna" }, implicates = { "lna-feed" } },
  otherwise = "found-lna-side",
}

step "tp1-mid" {
  title = "After the filter bank, MID section", see = "board",
  note = "The other section, through the same cable, limiter and switches.",
  set = { band = "mid", gain = "0 dB", channel = "1450" },
  inject = signal "1.45 GHz",
  read = { "power", at = "TP1", hookup = "tray lead", freq = "1.45 GHz", plausible = "-120 dBm .. -55 dBm" },
  expect = banded,
  power = "on", open = { "top-cover" }, minutes = 2,
  ok = { to = "found-filter", clears = { "limiter", "w1" }, implicates = { "filter" } },
  high = { to = "found-filter", clears = { "limiter", "w1" }, implicates = { "filter" } },
  low = { to = "limiter-diode", clears = { "filter" } },
  otherwise = "unclear",
}

step "limiter-diode" {
  title = "D3, input limiter", see = "board",
  note = "Two diodes back to back to ground: a healthy one shows a junction, a burnt one a short. A leaky one shows a junction as well.",
  read = { "diode", at = "D3", against = "chassis", hookup = "ohm leads", plausible = "0 V .. 3 V" },
  limits = "0.3 V .. 0.8 V", open = { "top-cover" }, minutes = 4,
  low = { to = "found-limiter", implicates = { "limiter" } },
  ok = "w1-ohms", high = "w1-ohms",
  otherwise = "found-input",
}

step "w1-ohms" {
  title = "W1, end to end", see = "connectors",
  read = { "continuity", at = "J1", against = "D3", hookup = "ohm leads" },
  limits = "at most 2 ohm", open = { "top-cover" }, minutes = 2,
  note = "At direct current: a joint that is poor at 1.5 GHz may well read whole.",
  high = { to = "found-w1", implicates = { "w1" } },
  otherwise = "found-input",
}

-- back half

step "warm-up" {
  title = "Let the reference settle",
  wait = "5 min", text = "The reference oven needs five minutes from cold before the oscillator can be judged.",
  open = { "top-cover" }, power = "on", minutes = 5,
  next = "lo-level",
}

step "lo-level" {
  title = "Local oscillator", see = "board",
  read = { "power", at = "TP4", hookup = "tray lead", freq = "1.43 GHz", plausible = "-120 dBm .. 5 dBm" },
  limits = "-13 dBm +/- 2.5 dB",
  power = "on", open = { "top-cover" }, minutes = 2,
  note = "1500 MHz less 70 MHz; +7 dBm on the line, sampled 20 dB down.",
  ok = { to = "tp3-level", clears = { "synth", "lo-buffer", "lo-trim", "reference" } },
  high = { to = "tp3-level", clears = { "synth", "lo-buffer", "reference" } },
  low = "lock-lamp", otherwise = "unclear",
}

step "lock-lamp" {
  title = "LOCK lamp",
  look = "What does the LOCK lamp on the tray show?",
  power = "on", open = { "top-cover" }, minutes = 1,
  answers = {
    { "lit", "steady", to = "lo-trim-up", clears = { "synth", "reference" } },
    { "dark", "dark", to = "reference-level" },
    { "blinks", "goes on and off", to = "reference-level" },
  },
}

step "reference-level" {
  title = "10 MHz reference", see = "board",
  read = { "power", at = "TP8", hookup = "output lead", freq = "10 MHz", plausible = "-100 dBm .. 15 dBm" },
  limits = "0 dBm +/- 3 dB",
  power = "on", open = { "top-cover" }, minutes = 2,
  ok = { to = "found-synth", clears = { "reference" }, implicates = { "synth" } },
  high = { to = "found-synth", clears = { "reference" }, implicates = { "synth" } },
  low = { to = "found-reference", implicates = { "reference" } },
  otherwise = "unclear",
}

step "lo-trim-up" {
  title = "Oscillator level, R12", see = "board",
  adjust = { "Mark where R12 stands. Turn it slowly with the insulated trimmer, no more than a quarter of a turn, until LM1 shows " ..
             "about -13.8 dBm. Note how far you turned it.", tries = 5,
             read = { "power", at = "TP4", hookup = "tray lead", freq = "1.43 GHz", plausible = "-120 dBm .. 5 dBm" } },
  limits = "-13 dBm +/- 1.5 dB",
  power = "on", open = { "top-cover" }, minutes = 5,
  cures = { "lo-trim" },
  ok = "output-trimmed",
  low = { to = "found-lo-buffer", clears = { "lo-trim" }, implicates = { "lo-buffer" } },
  otherwise = "unclear",
}

step "output-trimmed" {
  title = "Output level after R12", see = "connectors",
  set = straight,
  inject = signal(),
  read = { "power", at = "J2", hookup = "output lead", freq = "70 MHz", plausible = "-120 dBm .. 20 dBm" },
  expect = banded,
  power = "on", open = { "top-cover" }, minutes = 2,
  ok = { to = "found-lo-trim", clears = { "mixer", "if-amp" }, implicates = { "lo-trim", "lo-buffer" } },
  high = { to = "found-lo-trim", clears = { "mixer", "if-amp" }, implicates = { "lo-trim", "lo-buffer" } },
  low = "tp3-level", otherwise = "unclear",
}

step "tp3-level" {
  title = "70 MHz after the mixer", see = "board",
  set = straight,
  inject = signal(),
  read = { "power", at = "TP3", hookup = "output lead", freq = "70 MHz", plausible = "-120 dBm .. 0 dBm" },
  expect = banded,
  power = "on", open = { "top-cover" }, minutes = 2,
  ok = { to = "if-gain", clears = { "mixer" } }, high = { to = "if-gain", clears = { "mixer" } },
  low = { to = "found-mixer", implicates = { "mixer" } },
  unsure = "if-gain", unread = "unclear",
}

step "if-gain" {
  title = "Gain of the 70 MHz amplifier", see = "board",
  set = straight,
  inject = signal(),
  read = {
    { "before", "power", at = "TP3", hookup = "output lead", freq = "70 MHz", plausible = "-120 dBm .. 0 dBm" },
    { "after", "power", at = "J2", hookup = "output lead", freq = "70 MHz", plausible = "-120 dBm .. 20 dBm" },
  },
  difference = { "after", "before" }, limits = "42 dB +/- 3 dB",
  power = "on", open = { "top-cover" }, minutes = 4,
  note = "22 dB of gain, and the 20 dB by which TP3 is sampled.",
  low = { to = "found-if-amp", implicates = { "if-amp" } },
  otherwise = "unclear",
}

---------------------------------------------------------------- ends

local function found(id, t)
  step("found-" .. id)(t)
end

found("fuse", { finding = { "fuse" }, title = "F1 had blown; the new one holds",
  proof = "F1 read open on the mat, the reservoir behind it is not shorted, and with a new F1 lamp, rails and output are right.",
  not_tested = "Why it blew: watch the unit for an hour before it goes back." })
found("primary", { finding = { "primary" }, title = "Short in the primary of the supply module",
  proof = "F1 read open, and the reservoir reads under 20 kohm.",
  advice = "Exchange the supply module; its primary is not repaired at this bench." })
found("mains-side", { finding = { "primary", "psu" }, separated = false, title = "Inside the supply module, not separated",
  proof = "F1 read open, the reservoir reads no short, and with a new F1 the lamp is dark again.",
  not_tested = "Whether the new F1 went as well: what breaks down only under voltage blows it, what is dead leaves it whole.",
  advice = "Not a third fuse. Exchange the supply module." })
found("psu", { finding = { "psu" }, title = "Supply module",
  proof = "A rail is wrong at the supply's own plug, with the tray parted from it.",
  not_tested = "The tray on good rails.", advice = "Exchange the module as a whole, then put W3 together again and read the rails." })
found("tray-load", { finding = { "tray-load" }, title = "Something on the tray pulls a supply line down",
  proof = "The rails come back when W3 is parted.", not_tested = "Which part of the tray: measure along the lines, dead, from W3 on.",
  advice = "Put W3 together again after the repair." })
found("settings", { finding = { "settings" }, title = "It was set wrong",
  proof = "BAND or GAIN did not belong to the channel, and with both right the output is.",
  advice = "Tell the owner, and show the fault gone on his own channel; nothing was replaced." })
found("lna", { finding = { "lna" }, title = "A1, first amplifier",
  proof = "The signal is right at TP1 and low at TP2, and R7 brings it its feed." })
found("lna-feed", { finding = { "lna-feed" }, title = "R7, feed of the first amplifier",
  proof = "TP7 is not at its 8 V, and R7 reads far over 100 ohm." })
found("lna-side", { finding = { "lna", "lna-feed" }, separated = false, title = "A1 or its feed, not separated",
  proof = "The signal is right at TP1 and low at TP2, and TP7 is not at its 8 V.",
  not_tested = "R7: its reading could not be taken, lay on its limit, or something stands beside it." })
found("filter", { finding = { "filter" }, title = "Filter bank, HIGH section",
  proof = "MID passes at TP1 what HIGH holds back." })
found("limiter", { finding = { "limiter" }, title = "D3, input limiter",
  proof = "Both bands are low at TP1, and D3 reads as a short.",
  advice = "Ask what was on the antenna: a limiter dies of something." })
found("w1", { finding = { "w1" }, title = "W1, cable from J1", proof = "Both bands are low at TP1, and W1 reads open from end to end." })
found("input", { finding = { "limiter", "w1" }, separated = false, title = "Between J1 and the filter bank, not separated",
  proof = "Both bands are low at TP1, and neither a shorted D3 nor an open W1 was read.",
  not_tested = "A leaky D3, a joint of W1 that is poor only at 1.5 GHz: exchange W1 first, then lift D3." })
found("mixer", { finding = { "mixer" }, title = "U1, mixer",
  proof = "Signal and oscillator are there at TP2 and TP4, and TP3 is low." })
found("synth", { finding = { "synth" }, title = "A4, synthesiser",
  proof = "The oscillator is low and LOCK is not lit, with a good reference at TP8." })
found("reference", { finding = { "reference" }, title = "G1, 10 MHz reference",
  proof = "The oscillator is low and LOCK is not lit, and the reference is low at TP8." })
found("lo-buffer", { finding = { "lo-buffer" }, title = "A5, oscillator buffer",
  proof = "LOCK is lit, and R12 cannot bring the level at TP4 up.", advice = "R12 was turned: set it again with the new A5." })
found("lo-trim", { finding = { "lo-trim", "lo-buffer" }, separated = false, title = "Oscillator level, brought back with R12",
  proof = "LOCK is lit, the oscillator was low at TP4, and turning R12 brought it and the output back.",
  not_tested = "Whether R12 had moved or A5 has sunk: turning R12 hides that. R12 stands turned.",
  advice = "Read TP4 again after an hour. If it has sunk, it is A5; if it holds, seal R12." })
found("if-amp", { finding = { "if-amp" }, title = "A2, 70 MHz amplifier",
  proof = "Signal and oscillator are there at TP2 and TP4, and from TP3 to J2 the gain is low." })

step "not-shown" {
  finding = "The fault does not show", suspects = {}, title = "The fault does not show",
  proof = "The fault never showed as the owner has it, or the output was right on channel 1500 with nothing put right.",
  not_tested = "The LOW and MID sections of the filter bank: if the owner works there, read J2 on his channel.",
  advice = "Ask the owner when it happens; heat, tapping and a long run come next.",
}
step "unclear" {
  finding = "Not separated", suspects = {}, title = "Stopped: no clear reading",
  proof = "A reading this isolation stands on could not be taken, lay on its limit, or lies within its limits although the output is low.",
  not_tested = "Everything still open in the list of suspects.",
  advice = "Mend the hookup or take a finer meter, and start again.",
}
