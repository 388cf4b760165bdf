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
    band = { title = "the BAND switch", "low", "mid", "high" },
  },
  changes = {
    ["w3-parted"] = { kind = "lifted leg", title = "W3 parted (12 V feed of the signal tray)", zone = "inside", needs = "off" },
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

point "TP5" { title = "TP5, +12 V", zone = "inside", behind = { "top-cover" }, dc = "12 V" }
point "TP6" { title = "TP6, +5 V", zone = "inside", behind = { "top-cover" }, dc = "5 V" }
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
