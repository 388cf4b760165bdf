-- Low or no output of a Tarnbeck Fell. The chain is halved at TP2, where gain and conversion meet.
require "family"

playbook {
  id = "fell/low-output", edition = 1,
  title = "Fell down-converter: output low or absent",
  family = "Tarnbeck Fell",
  first = {
    "Ground the antenna feed, then take it off J1 and cap it: a lightning-struck feed may still carry a charge.",
    "Write down BAND, GAIN and the channel shown; the owner wants them back.",
    "If it smells burnt or hums, leave it off and type stop.",
  },
  symptom = {
    "the LEVEL bar shows more than 6 dB too little, or nothing",
    under = "mains on, GAIN at 0 dB, -40 dBm at 1.5 GHz into J1 from the bench source",
    power = "on", tries = 3, absent = "not-shown",
  },
  enter = {
    { "nothing", "the LEVEL bar stays dark", to = "power-lamp" },
    { "low", "the LEVEL bar shows a signal, but weak", to = "rails" },
  },
}

suspect "fuse"      { title = "F1, mains fuse", modes = { "open" }, odds = 2 }
suspect "primary"   { title = "rectifier or reservoir of the supply module", modes = { "short" } }
suspect "psu"       { title = "supply module", modes = { "dead", "one rail missing" }, odds = 2 }
suspect "tray-load" { title = "a short on the tray's 12 V line", modes = { "short" } }
suspect "limiter"   { title = "D3, input limiter", modes = { "short", "leaky" }, odds = 4 }
suspect "w1"        { title = "W1, cable from J1 to the filter bank", modes = { "open", "poor joint" }, odds = 2 }
suspect "filter"    { title = "filter bank, HIGH section", modes = { "open", "detuned" } }
suspect "lna"       { title = "A1, first amplifier", modes = { "dead", "low gain" }, odds = 4 }
suspect "lna-feed"  { title = "R7, feed of the first amplifier", modes = { "open" } }
suspect "mixer"     { title = "U1, mixer", modes = { "open diode" }, odds = 2 }
suspect "synth"     { title = "A4, synthesiser", modes = { "no lock" }, odds = 2 }
suspect "lo-buffer" { title = "A5, oscillator buffer", modes = { "low level" } }
suspect "lo-trim"   { title = "R12, oscillator level, out of adjustment", modes = { "shifted" } }
suspect "reference" { title = "G1, 10 MHz reference", modes = { "dead", "weak" } }
suspect "if-amp"    { title = "A2, 70 MHz amplifier", modes = { "dead", "low gain" }, odds = 3 }
suspect "gain-set"  { title = "GAIN attenuator left in", modes = { "set" }, odds = 2 }

-- The same signal at J1 serves every level in the tray.
local function signal(freq)
  return { "-40 dBm", at = "J1", freq = freq or "1.5 GHz", hookup = "source lead" }
end

---------------------------------------------------------------- power

step "power-lamp" {
  title = "Mains lamp",
  look = "With the unit on: what does the green mains lamp on the front do?",
  power = "on", minutes = 1,
  answers = {
    { "lit", "steady green", to = "rails", clears = { "fuse" } },
    { "dark", "nothing at all", to = "pull-fuse" },
    { "flickers", "lights and goes out, about once a second", to = "rails", clears = { "fuse" } },
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
  ok = { to = "psu-dead", clears = { "fuse" } },
  high = { to = "primary-ohms", implicates = { "fuse" } },
  otherwise = "fuse-unclear",
}

step "primary-ohms" {
  title = "Across the reservoir, before a new fuse goes in",
  note = "A fuse seldom dies alone. Under a few kilohm the rectifier or C1 took it along.",
  read = { "ohms", at = "C1", against = "its other pole", hookup = "ohm leads", settle = "5 s" },
  limits = "at least 20 kohm", open = { "psu-shield" }, unshort = { "C1" }, minutes = 3,
  ok = "new-fuse", high = "new-fuse",
  low = { to = "found-primary", implicates = { "primary" } },
  otherwise = "fuse-unclear",
}

step "new-fuse" {
  title = "A new F1",
  replace = "F1", text = "Only the rating printed beside the holder: T 1 A, 250 V, high breaking capacity.",
  zone = "primary", open = { "psu-shield" }, power = "dead", minutes = 3,
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
  look = "With the unit on: what does the green lamp do now?",
  power = "on", minutes = 1, most = 2, beyond = "fuse-unclear",
  answers = {
    { "lit", "steady green", to = "found-fuse" },
    { "dark", "nothing, or the fuse went again", to = "found-primary", implicates = { "primary" } },
    { "smoke", "smoke, smell or crackling", stop = true },
  },
}

---------------------------------------------------------------- rails

step "rails" {
  title = "Supply rails of the tray",
  collect = {
    { "p12", "volts", at = "TP5", against = "chassis", hookup = "volt leads", limits = "12 V +/- 4 %", plausible = "-1 V .. 20 V" },
    { "p5",  "volts", at = "TP6", against = "chassis", hookup = "volt leads", limits = "5 V +/- 4 %", plausible = "-1 V .. 10 V" },
  },
  power = "on", open = { "top-cover" }, minutes = 3,
  decide = function(v, outcome)
    if outcome.p12 == "unread" or outcome.p5 == "unread" then return "rails-unread" end
    if outcome.p12 == "ok" and outcome.p5 == "ok" then return "output-level" end
    if outcome.p12 == "low" and outcome.p5 ~= "low" then return "part-w3" end
    return "psu-dead"
  end,
  to = { { to = "output-level", clears = { "fuse", "primary", "psu", "tray-load" } }, "part-w3",
         { to = "psu-dead" }, "rails-unread" },
}

step "part-w3" {
  title = "Part W3",
  act = "Part W3, the white two-pole plug that feeds 12 V to the tray.",
  open = { "top-cover" }, power = "off", zone = "inside", minutes = 2,
  makes = { "w3-parted" },
  next = "p12-alone",
}

step "p12-alone" {
  title = "+12 V without the tray",
  read = { "volts", at = "TP5", against = "chassis", hookup = "volt leads", plausible = "-1 V .. 20 V" },
  limits = "12 V +/- 4 %",
  power = "on", open = { "top-cover" }, with = { "w3-parted" }, minutes = 2,
  ok = { to = "found-tray-load", clears = { "psu" }, implicates = { "tray-load" } },
  low = { to = "psu-dead" }, high = "psu-dead",
  otherwise = "rails-unread",
}

step "psu-dead" {
  title = "Supply module",
  tell = "The supply module gives wrong voltages, or none, with nothing wrong around it. It is exchanged as a whole; it is not opened further here.",
  next = { to = "found-psu", implicates = { "psu" } },
}

---------------------------------------------------------------- signal, halved at TP2

step "output-level" {
  title = "Output level",
  set = { band = "high" },
  inject = signal(),
  read = { "power", at = "J2", hookup = "output lead", freq = "70 MHz", plausible = "-120 dBm .. 20 dBm" },
  expect = "signal",
  power = "on", open = { "top-cover" }, minutes = 4, most = 3, beyond = "not-shown",
  note = "BAND HIGH, GAIN 0 dB, channel 1500.",
  low = "gain-setting", ok = "not-shown", high = "gain-setting", unsure = "tp2-level",
  unread = "rails-unread",
}

step "gain-setting" {
  title = "GAIN switch",
  look = "Where does the GAIN switch stand?",
  power = "any", minutes = 1,
  answers = {
    { "zero", "at 0 dB", to = "tp2-level", clears = { "gain-set" } },
    { "other", "anywhere else", to = "gain-to-zero", implicates = { "gain-set" } },
  },
}

step "gain-to-zero" {
  title = "GAIN to 0 dB",
  act = "Turn GAIN to 0 dB.",
  outside = true, power = "any", minutes = 1,
  next = "output-after-gain",
}

step "output-after-gain" {
  title = "Output level with GAIN at 0 dB",
  set = { band = "high" },
  inject = signal(),
  read = { "power", at = "J2", hookup = "output lead", freq = "70 MHz", plausible = "-120 dBm .. 20 dBm" },
  expect = "signal",
  power = "on", open = { "top-cover" }, minutes = 2,
  ok = { to = "found-gain-set", implicates = { "gain-set" } },
  low = { to = "tp2-level", clears = { "gain-set" } }, high = "found-gain-set",
  unsure = "tp2-level", unread = "rails-unread",
}

step "tp2-level" {
  title = "After the first amplifier",
  set = { band = "high" },
  inject = signal(),
  read = { "power", at = "TP2", hookup = "tray lead", freq = "1.5 GHz", plausible = "-120 dBm .. -25 dBm" },
  expect = "signal",
  power = "on", open = { "top-cover" }, minutes = 3,
  note = "-40 dBm in, filter bank 3 dB, amplifier +20 dB, sampled 20 dB down.",
  ok = { to = "warm-up", clears = { "limiter", "w1", "filter", "lna", "lna-feed" } },
  high = { to = "warm-up", clears = { "limiter", "w1", "filter", "lna", "lna-feed" } },
  low = { to = "filter-label", clears = { "mixer", "synth", "lo-buffer", "lo-trim", "reference", "if-amp" } },
  unsure = "filter-label", unread = "rails-unread",
}

-- front half

step "filter-label" {
  title = "Loss stamped on the filter bank",
  read = { "loss", unit = "dB", asks = "Read the loss stamped on the filter bank's lid for the HIGH section.", plausible = "1 dB .. 6 dB" },
  open = { "top-cover" }, minutes = 1, holds = "all",
  next = "tp1-level", unread = "tp1-level",
}

step "tp1-level" {
  title = "After the filter bank",
  set = { band = "high" },
  inject = signal(),
  read = { "power", at = "TP1", hookup = "tray lead", freq = "1.5 GHz", plausible = "-120 dBm .. -55 dBm" },
  uses = { loss = "filter-label" },
  limits = function(v)
    local loss = v.loss or 3
    return { -60 - loss - 2, -60 - loss + 2 }
  end,
  power = "on", open = { "top-cover" }, minutes = 3,
  ok = { to = "lna-feed-volts", clears = { "limiter", "w1", "filter" } },
  high = { to = "lna-feed-volts", clears = { "limiter", "w1", "filter" } },
  low = { to = "tp1-mid", clears = { "lna", "lna-feed" } },
  unsure = "tp1-mid", unread = "rails-unread",
}

step "lna-feed-volts" {
  title = "Feed of the first amplifier",
  read = { "volts", at = "TP7", against = "chassis", hookup = "volt leads", plausible = "-1 V .. 15 V" },
  expect = "signal",
  power = "on", open = { "top-cover" }, minutes = 2,
  ok = { to = "found-lna", clears = { "lna-feed" }, implicates = { "lna" } },
  low = { to = "lna-feed-ohms" },
  high = { to = "found-lna", clears = { "lna-feed" }, implicates = { "lna" } },
  otherwise = "lna-feed-ohms",
}

step "lna-feed-ohms" {
  title = "R7",
  note = "R7 is 100 ohm. Open, the amplifier is starved; whole, the amplifier pulls its feed down.",
  read = { "ohms", at = "TP7", against = "TP5", hookup = "ohm leads" },
  limits = "100 ohm +/- 10 %", open = { "top-cover" }, minutes = 4,
  ok = { to = "found-lna", clears = { "lna-feed" }, implicates = { "lna" } },
  high = { to = "found-lna-feed", clears = { "lna" }, implicates = { "lna-feed" } },
  low = { to = "found-lna", implicates = { "lna" } },
  otherwise = "found-front",
}

step "tp1-mid" {
  title = "After the filter bank, MID section",
  note = "Channel 1450.",
  set = { band = "mid" },
  inject = signal "1.45 GHz",
  read = { "power", at = "TP1", hookup = "tray lead", freq = "1.45 GHz", plausible = "-120 dBm .. -55 dBm" },
  expect = "signal",
  power = "on", open = { "top-cover" }, minutes = 2,
  ok = { to = "found-filter", clears = { "limiter", "w1" }, implicates = { "filter" } },
  high = { to = "found-filter", clears = { "limiter", "w1" }, implicates = { "filter" } },
  low = { to = "limiter-diode", clears = { "filter" } },
  unsure = "limiter-diode", unread = "rails-unread",
}

step "limiter-diode" {
  title = "D3, input limiter",
  note = "Two diodes back to back to ground: a healthy one shows a junction, a burnt one a short.",
  read = { "diode", at = "D3", against = "chassis", hookup = "ohm leads", plausible = "0 V .. 3 V" },
  limits = "0.3 V .. 0.8 V", open = { "top-cover" }, minutes = 4,
  low = { to = "found-limiter", clears = { "w1" }, implicates = { "limiter" } },
  ok = { to = "w1-ohms", clears = { "limiter" } },
  high = { to = "w1-ohms", clears = { "limiter" } },
  otherwise = "found-front",
}

step "w1-ohms" {
  title = "W1, end to end",
  read = { "continuity", at = "J1", against = "D3", hookup = "ohm leads" },
  limits = "at most 2 ohm", open = { "top-cover" }, minutes = 2,
  high = { to = "found-w1", implicates = { "w1" } },
  ok = { to = "found-front" },
  otherwise = "found-front",
}

-- back half

step "warm-up" {
  title = "Let the reference settle",
  wait = "5 min", text = "The reference oven needs five minutes from cold before the oscillator can be judged.",
  open = { "top-cover" }, power = "on", minutes = 5,
  next = "lo-level",
}

step "lo-level" {
  title = "Local oscillator",
  read = { "power", at = "TP4", hookup = "tray lead", freq = "1.43 GHz", plausible = "-120 dBm .. 5 dBm" },
  limits = "-13 dBm +/- 2 dB",
  power = "on", open = { "top-cover" }, minutes = 2, most = 3, beyond = "found-oscillator",
  note = "1500 MHz less 70 MHz; +7 dBm on the line, sampled 20 dB down.",
  ok = { to = "tp3-level", clears = { "synth", "lo-buffer", "lo-trim", "reference" } },
  high = { to = "lo-trim-up" }, low = "lock-lamp", unsure = "lo-trim-up",
  unread = "lock-lamp",
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
  title = "10 MHz reference",
  read = { "power", at = "TP8", hookup = "output lead", freq = "10 MHz", plausible = "-100 dBm .. 15 dBm" },
  limits = "0 dBm +/- 3 dB",
  power = "on", open = { "top-cover" }, minutes = 2,
  ok = { to = "found-synth", clears = { "reference", "lo-buffer", "lo-trim" }, implicates = { "synth" } },
  high = { to = "found-synth", clears = { "reference" }, implicates = { "synth" } },
  low = { to = "found-reference", clears = { "synth", "lo-buffer", "lo-trim" }, implicates = { "reference" } },
  otherwise = "found-oscillator",
}

step "lo-trim-up" {
  title = "Oscillator level, R12",
  adjust = { "Turn R12 slowly with the insulated trimmer.", tries = 5,
             read = { "power", at = "TP4", hookup = "tray lead", freq = "1.43 GHz", plausible = "-120 dBm .. 5 dBm" } },
  limits = "-13 dBm +/- 1.5 dB",
  power = "on", open = { "top-cover" }, minutes = 5,
  ok = { to = "output-trimmed", implicates = { "lo-trim" } },
  low = { to = "found-lo-buffer", clears = { "synth", "lo-trim", "reference" }, implicates = { "lo-buffer" } },
  otherwise = "found-oscillator",
}

step "output-trimmed" {
  title = "Output level after R12",
  set = { band = "high" },
  inject = signal(),
  read = { "power", at = "J2", hookup = "output lead", freq = "70 MHz", plausible = "-120 dBm .. 20 dBm" },
  expect = "signal",
  power = "on", open = { "top-cover" }, minutes = 2,
  ok = { to = "found-lo-trim", clears = { "mixer", "if-amp", "lo-buffer" } }, high = "found-lo-trim",
  low = "tp3-level", unsure = "tp3-level", unread = "rails-unread",
}

step "tp3-level" {
  title = "70 MHz after the mixer",
  set = { band = "high" },
  inject = signal(),
  read = { "power", at = "TP3", hookup = "output lead", freq = "70 MHz", plausible = "-120 dBm .. 0 dBm" },
  expect = "signal",
  power = "on", open = { "top-cover" }, minutes = 2,
  ok = { to = "if-gain", clears = { "mixer" } }, high = { to = "if-gain", clears = { "mixer" } },
  low = { to = "found-mixer", clears = { "if-amp" }, implicates = { "mixer" } },
  unsure = "if-gain", unread = "rails-unread",
}

step "if-gain" {
  title = "Gain of the 70 MHz amplifier",
  set = { band = "high" },
  inject = signal(),
  read = {
    { "before", "power", at = "TP3", hookup = "output lead", freq = "70 MHz", plausible = "-120 dBm .. 0 dBm" },
    { "after", "power", at = "J2", hookup = "output lead", freq = "70 MHz", plausible = "-120 dBm .. 20 dBm" },
  },
  difference = { "after", "before" }, limits = "42 dB +/- 3 dB",
  power = "on", open = { "top-cover" }, minutes = 4,
  note = "22 dB of gain, and the 20 dB by which TP3 is sampled.",
  low = { to = "found-if-amp", implicates = { "if-amp" } },
  ok = { to = "found-back", clears = { "if-amp" } }, high = { to = "found-back", clears = { "if-amp" } },
  otherwise = "found-back",
}

---------------------------------------------------------------- ends

local function found(id, t)
  step("found-" .. id)(t)
end

found("fuse", { finding = { "fuse" }, title = "F1 had blown; the new one holds",
  proof = "F1 read open on the mat, the primary is not shorted, and the unit runs with a new fuse.",
  not_tested = "Why it blew: watch the unit for an hour before it goes back." })
found("primary", { finding = { "primary" }, title = "Short in the primary of the supply module",
  proof = "F1 is open and the reservoir reads far under 20 kohm, or a second fuse went at once.",
  advice = "Exchange the supply module; its primary is not repaired at this bench." })
found("psu", { finding = { "psu" }, title = "Supply module",
  proof = "A rail is wrong with its load parted, or no rail is there with F1 whole.",
  not_tested = "The tray on good rails." })
found("tray-load", { finding = { "tray-load" }, title = "Something on the tray shorts the 12 V line",
  proof = "+12 V comes back when W3 is parted.", not_tested = "Which part of the tray: measure along the line, dead, from W3 on.",
  advice = "Put W3 together again after the repair." })
found("gain-set", { finding = { "gain-set" }, title = "GAIN had been left in",
  proof = "The output is right with GAIN at 0 dB.", advice = "Tell the owner; nothing was replaced." })
found("lna", { finding = { "lna" }, title = "A1, first amplifier",
  proof = "Signal is right at TP1 and low at TP2, with its feed whole." })
found("lna-feed", { finding = { "lna-feed" }, title = "R7, feed of the first amplifier",
  proof = "No voltage at TP7, and R7 reads open." })
found("filter", { finding = { "filter" }, title = "Filter bank, HIGH section",
  proof = "MID passes the same signal that HIGH holds back." })
found("limiter", { finding = { "limiter" }, title = "D3, input limiter",
  proof = "Both bands are low at TP1, and D3 reads as a short.",
  advice = "Ask what was on the antenna: a limiter dies of something." })
found("w1", { finding = { "w1" }, title = "W1, cable from J1", proof = "W1 reads open from end to end." })
found("front", { finding = { "limiter", "w1", "filter", "lna", "lna-feed" }, separated = false, title = "The front half, not separated",
  proof = "The signal is lost between J1 and TP2.", not_tested = "The readings that would have told these apart could not be taken, or disagree." })
found("mixer", { finding = { "mixer" }, title = "U1, mixer",
  proof = "Signal and oscillator are right at its inputs, and its output is low." })
found("synth", { finding = { "synth" }, title = "A4, synthesiser", proof = "No lock with a good reference." })
found("reference", { finding = { "reference" }, title = "G1, 10 MHz reference", proof = "No lock, and the reference is low at TP8." })
found("lo-buffer", { finding = { "lo-buffer" }, title = "A5, oscillator buffer",
  proof = "Locked, and R12 cannot bring the level up." })
found("lo-trim", { finding = { "lo-trim" }, title = "R12 was out of adjustment",
  proof = "R12 brings oscillator and output back within limits.", not_tested = "Why it moved: seal it, and look again when warm." })
found("oscillator", { finding = { "synth", "lo-buffer", "lo-trim", "reference" }, separated = false,
  title = "The oscillator chain, not separated", proof = "The oscillator level at TP4 is wrong.",
  not_tested = "The readings that would have told these apart could not be taken." })
found("if-amp", { finding = { "if-amp" }, title = "A2, 70 MHz amplifier",
  proof = "The level is right before it, and its gain is low." })
found("back", { finding = { "mixer", "if-amp" }, separated = false, title = "Between TP2 and J2, not separated",
  proof = "The output is low although each reading on the way is within limits.",
  not_tested = "Tolerances that add up: repeat with the levels written side by side." })

step "not-shown" {
  finding = "The fault does not show", suspects = {}, title = "The fault does not show",
  proof = "The output is within limits, or the fault never showed under the stated conditions.",
  advice = "Ask the owner when it happens; heat, tapping and a long run come next.",
}
step "rails-unread" {
  finding = "A reading could not be taken", suspects = {}, title = "Stopped for want of a reading",
  proof = "A reading this isolation stands on could not be taken.",
  not_tested = "Everything after that reading.", advice = "Mend the hookup, then start again.",
}
step "fuse-unclear" {
  finding = { "fuse", "primary", "psu" }, separated = false, title = "Mains side of the supply, not separated",
  proof = "The mains lamp stays dark.", not_tested = "The readings on the mains side gave no clear answer.",
}
