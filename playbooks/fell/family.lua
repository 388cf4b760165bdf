-- Tarnbeck Fell: an L-band telemetry down-converter, 1.4 to 1.6 GHz in, 70 MHz out, from the mains.
-- What every Fell playbook shares: where energy is, what comes off in which order, where one can read.

unit {
  supply = { mains = { "230 V", zone = "primary", title = "the mains lead" } },
  switch = "the rear-panel mains switch",
  stores = {
    C1 = { charged = "325 V", farads = "220 uF", bleed = "150 kohm", zone = "primary", follows_line = true,
           title = "C1, the reservoir of the supply module" },
  },
  rails = {
    P12 = { "12 V", zone = "inside", title = "the +12 V rail" },
    P5  = { "5 V", zone = "inside", title = "the +5 V rail" },
  },
  zones = {
    inside  = { guard = "top-cover", title = "the signal tray" },
    primary = { guard = "psu-shield", title = "the supply module" },
  },
  parts = {
    ["top-cover"]  = { title = "the top cover", fixings = "10 x M3 countersunk", torque = "0.6 N m", needs = "off" },
    ["psu-shield"] = { title = "the supply module's shield", after = "top-cover", fixings = "6 x M3 pan", torque = "0.6 N m" },
  },
  controls = {
    band    = { title = "the BAND switch", "low", "mid", "high" },
    gain    = { title = "the GAIN switch", "0 dB", "10 dB", "20 dB" },
    channel = { title = "the channel", "1500", "1450", "owner's own" },
  },
  changes = {
    ["w3-parted"] = { kind = "lifted leg", title = "W3 parted (12 V and 5 V for the signal tray)", zone = "inside", needs = "off" },
    ["f1-out"]    = { kind = "lifted leg", title = "F1 out of its holder", zone = "primary", needs = "dead" },
  },
}

-- The front panel and rear panel are reached from outside.
point "J1" { title = "J1, L-band input", accepts = "+10 dBm", impedance = "50 ohm", connector = "N female" }
point "J2" { title = "J2, 70 MHz output", gives = "+5 dBm", impedance = "50 ohm", connector = "BNC female" }

-- Inside, every signal point is sampled 20 dB below its line, on SMP sockets along the tray's edge.
local sampled = {
  { "TP1", "TP1, after the filter bank", "-10 dBm" },
  { "TP2", "TP2, after the first amplifier", "0 dBm" },
  { "TP3", "TP3, 70 MHz after the mixer", "-10 dBm" },
  { "TP4", "TP4, local oscillator", "-5 dBm" },
  { "TP8", "TP8, 10 MHz reference", "+5 dBm" },
}
for _, p in ipairs(sampled) do
  point(p[1]) { title = p[2], zone = "inside", behind = { "top-cover" }, gives = p[3], impedance = "50 ohm",
    connector = "SMP male" }
end

point "TP5" { title = "TP5, +12 V, on the supply's side of W3", zone = "inside", behind = { "top-cover" }, dc = "12 V" }
point "TP6" { title = "TP6, +5 V, on the supply's side of W3", zone = "inside", behind = { "top-cover" }, dc = "5 V" }
point "TP7" { title = "TP7, feed of the first amplifier", zone = "inside", behind = { "top-cover" }, dc = "12 V" }
point "D3"  { title = "D3, input limiter", zone = "inside", behind = { "top-cover" } }
point "C1"  { title = "C1, reservoir", zone = "primary", behind = { "psu-shield" } }

-- What a Fell asks of a shop's leads. A hookup of the same name in the kit fills a role; `bind` gives it another.
role "source lead" {
  kind = "source", title = "signal into J1, with a pad at the unit",
  freq = "1.4 GHz .. 1.6 GHz", range = "-60 dBm .. -20 dBm", loss = "10 dB at 1.6 GHz", ends = { "N male", "N male" },
}
role "tray lead" {
  title = "to the sockets along the tray's edge",
  reads = { "power" }, freq = "1.4 GHz .. 1.6 GHz", range = "-100 dBm .. 0 dBm", u = "0.6 dB", loss = "2 dB at 1.6 GHz",
}
role "output lead" {
  title = "to J2, and to the sockets that carry 70 and 10 MHz",
  reads = { "power" }, freq = "10 MHz .. 100 MHz", range = "-90 dBm .. 10 dBm", u = "0.6 dB", loss = "1 dB at 100 MHz",
}
role "volt leads" { title = "prods", reads = { "volts" }, range = "0 V .. 20 V", u = "0.1 V" }
role "ohm leads"  { title = "prods, for what is read dead", reads = { "ohms", "continuity", "diode" } }

-- The signal's way, 32 dB of gain from J1 to J2, and what drives the mixer. Each point is sampled 20 dB below its line.
lineup "signal" {
  title = "1.5 GHz to 70 MHz", impedance = "50 ohm",
  port { "J1" },
  stage { "w1", loss = "0.3 dB +/- 0.1 dB", faults = { ["poor joint"] = "resistive 400 ohm" } },
  stage { "limiter", loss = "0.2 dB +/- 0.1 dB", faults = { leaky = "leaky 5 ohm" } },
  switch { "bank", by = "band", ways = {
    low  = { stage { "filter-low", loss = "2.5 dB +/- 0.5 dB" } },
    mid  = { stage { "filter-mid", loss = "2.5 dB +/- 0.5 dB" } },
    high = { stage { "filter", loss = "2.5 dB +/- 0.5 dB", faults = { detuned = "gain -12 dB" } } },
  } },
  point { "TP1", tap = "20 dB +/- 0.3 dB" },
  stage { "lna", gain = "20 dB +/- 1 dB", nf = "1.2 dB", p1db = "+12 dBm", supply = "lna-feed", faults = { ["low gain"] = "gain -10 dB", ["pulls its feed down"] = "dead" } },
  point { "TP2", tap = "20 dB +/- 0.3 dB" },
  mixer { "mixer", loss = "7 dB +/- 0.7 dB", nf = "7.5 dB", lo_from = "TP4", needs = "+6 dBm", faults = { ["open diode"] = "gain -15 dB", ["shorted diode"] = "gain -20 dB" } },
  point { "TP3", tap = "20 dB +/- 0.3 dB" },
  switch { "attenuator", title = "GAIN attenuator", by = "gain", ways = {
    ["0 dB"] = { stage { "straight", gain = "0 dB" } },
    ["10 dB"] = { stage { "att-10", loss = "10 dB +/- 0.2 dB" } },
    ["20 dB"] = { stage { "att-20", loss = "20 dB +/- 0.2 dB" } },
  } },
  stage { "if-amp", gain = "22 dB +/- 1 dB", nf = "3 dB", p1db = "+10 dBm", supply = "p12", faults = { ["low gain"] = "gain -10 dB" } },
  port { "J2" },

  oscillator { "reference", gives = "0 dBm +/- 1 dB", freq = "10 MHz", faults = { weak = "gain -15 dB" } },
  point { "TP8", from = "reference" },
  oscillator { "synth", gives = "+1 dBm +/- 0.3 dB", freq = { band = { low = "1.33 GHz", mid = "1.38 GHz", high = "1.43 GHz" } },
               locks = "reference", needs = "-10 dBm", supply = "p12" },
  stage { "lo-trim", title = "R12", gain = "0 dB", faults = { shifted = "gain -12 dB" } },
  stage { "lo-buffer", gain = "6 dB +/- 0.5 dB", supply = "p12", faults = { ["low level"] = "gain -15 dB", sunk = "gain -12 dB" } },
  point { "TP4", tap = "20 dB +/- 0.3 dB" },

  supply { "p12", suspect = "psu", gives = "12 V +/- 2 %", faults = { ["one rail missing"] = "dead" } },
  point { "TP5", from = "p12" },
  supply { "lna-feed", gives = "8 V +/- 5 %", faults = { risen = "gain -7 dB" } },
  point { "TP7", from = "lna-feed" },
}

-- Where things are; the SVG files lie beside this one.
picture "blocks" {
  file = "pictures/blocks.svg", title = "the block diagram",
}
picture "board" {
  file = "pictures/board.svg", title = "the tray",
  marks = {
    TP1 = "first SMP socket from the front, right-hand edge",
    TP2 = "second SMP socket, right-hand edge",
    TP3 = "third SMP socket, right-hand edge",
    TP4 = "fourth SMP socket, right-hand edge",
    TP8 = "last SMP socket, right-hand edge",
    TP5 = "pin before the SMP row, beside W3",
    TP6 = "pin beside TP5, towards the rear",
    TP7 = "pin before the SMP row, towards the front",
    D3 = "at the front, under W1",
    C1 = "in the supply module, under its shield",
    W3 = "between A5 and the supply module",
    A5 = "middle of the tray, R12 at its corner",
  },
}
picture "connectors" {
  file = "pictures/connectors.svg", title = "the connectors and knobs",
  marks = {
    J1 = "rear, left, N",
    J2 = "rear, middle, BNC",
    X1 = "rear, right, the mains inlet",
    lamp = "front, far left",
    LEVEL = "front, the bar",
    BAND = "front, the knob right of the bar",
    GAIN = "front, far right",
  },
}
